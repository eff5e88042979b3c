// The learning drive of a job: its sheet, and a log held against it.
#include "slipcase/drive.h"

#include <algorithm>

#include "api/parts.h"
#include "api/reading.h"
#include "drive/check_log.h"
#include "drive/drive_sheet.h"
#include "drive/moving_values.h"
#include "drive/preconditions.h"
#include "facts/table.h"
#include "support/listed.h"

namespace slipcase {

namespace {

using profile::Procedure;
using profile::Profile;

/// The one that is named, or the first; null if there is none.
const Procedure* find_procedure(const Profile& unit, const std::string& name) {
  if (!name.empty()) return unit.find_procedure(name);
  return unit.procedures.empty() ? nullptr : &unit.procedures.front();
}

NoProcedure no_procedure(const Profile& unit, const std::string& asked) {
  NoProcedure none{unit.name, asked, {}};
  for (const Procedure& one : unit.procedures) none.known.push_back(one.name);
  return none;
}

drive::CardFacts card_of(const Knowledge& knowledge, const Job& job) {
  const Knowledge::Parts& parts = knowledge.parts();
  return {*parts.ground, job.parts().facts, *parts.sources};
}

/// Good until the next evaluation.
const evaluation::Evaluation& states_of(const Knowledge& knowledge, const Job& job) {
  return knowledge.parts().evaluator.evaluate(job.parts().facts);
}

template <class Result>
void add_names(const Knowledge& knowledge, const Job& job, Result& result) {
  result.job = job.parts().title.job;
  result.unit = job.parts().title.unit;
  result.unit_title = knowledge.parts().profile->title;
}

std::optional<SourceId> read_text(const std::filesystem::path& path, std::uintmax_t most_bytes,
                                  SourceSet& sources, Diagnostics& diagnostics, Loaded& outcome) {
  auto text = read_file(path, most_bytes);
  if (const auto* failure = std::get_if<FileFailure>(&text)) {
    outcome = api::worse(outcome, api::report(*failure, diagnostics));
    return std::nullopt;
  }
  return sources.add(path.string(), std::move(std::get<std::string>(text)));
}

std::optional<drive::DriveLog> read_log(const Profile& unit, const DriveLogPaths& paths,
                                        SourceSet& sources, Diagnostics& diagnostics,
                                        Loaded& outcome) {
  const auto mapping_text =
      read_text(paths.mapping, api::most_profile_bytes, sources, diagnostics, outcome);
  const auto log_text =
      read_text(paths.log, facts::most_table_bytes, sources, diagnostics, outcome);
  if (!mapping_text) return std::nullopt;
  const auto mapping = drive::read_log_mapping(sources, *mapping_text, unit, diagnostics);
  if (!mapping || !log_text) return std::nullopt;
  return drive::read_drive_log(sources, *log_text, *mapping, unit, diagnostics);
}

/// Every value that was read since the clearing is exactly zero.
bool is_all_zero(const MovingValues& moving) {
  return !moving.values.empty() && std::ranges::all_of(moving.values, [](const MovingValue& one) {
    return one.heading == Heading::at_zero;
  });
}

DriveCheck check_of(const drive::DriveLog& log, const Procedure& procedure,
                    const Knowledge& knowledge, const Job& job) {
  DriveCheck check = drive::check_log(log, *knowledge.parts().profile, procedure);
  const drive::CardFacts card = card_of(knowledge, job);
  add_names(knowledge, job, check);
  check.before =
      drive::preconditions(card, *knowledge.parts().profile, procedure, drive::Asked::after_drive);
  check.moving = drive::moving_values(card, states_of(knowledge, job), procedure.name);
  if (is_all_zero(check.moving)) check.signs.push_back(DriveSign::values_zero);
  if (check.complete && !check.is_contradicted() && card.repair_named(procedure.name))
    check.record = DriveRecord{"repairs", procedure.name, drive::day_of_clearing(card, procedure)};
  return check;
}

}  // namespace

DriveSheetResult drive_sheet(const Knowledge& knowledge, const Job& job,
                             const std::string& procedure) {
  const Profile& unit = *knowledge.parts().profile;
  const Procedure* found = find_procedure(unit, procedure);
  if (found == nullptr) return no_procedure(unit, procedure);
  DriveSheet sheet =
      drive::drive_sheet(card_of(knowledge, job), states_of(knowledge, job), unit, *found);
  add_names(knowledge, job, sheet);
  return sheet;
}

DriveCheckLoad check_drive(const Knowledge& knowledge, const Job& job, const DriveLogPaths& paths,
                           Diagnostics& diagnostics, const std::string& procedure) {
  const Profile& unit = *knowledge.parts().profile;
  const Procedure* found = find_procedure(unit, procedure);
  if (found == nullptr) return {Loaded::good, no_procedure(unit, procedure)};
  Loaded outcome = Loaded::input_errors;
  const auto log = read_log(unit, paths, *knowledge.parts().sources, diagnostics, outcome);
  diagnostics.sort();
  diagnostics = listed(diagnostics);
  if (!log) return {outcome, std::nullopt};
  return {Loaded::good, check_of(*log, *found, knowledge, job)};
}

}  // namespace slipcase
