// All stages from files to rules that are ready for jobs.
#include <algorithm>
#include <future>

#include <fmt/core.h>

#include "api/load_profile.h"
#include "api/messages.h"
#include "api/own_doubts.h"
#include "api/parts.h"
#include "api/reading.h"
#include "language/parse.h"
#include "profile/read_profile.h"
#include "rulebase/canonical.h"
#include "rulebase/resolve.h"
#include "support/listed.h"

namespace slipcase {

namespace {

namespace fs = std::filesystem;

constexpr std::string_view rule_extension = ".rules";

/// Whether one of the two folders or files is, or lies in, the other.
bool overlap(const fs::path& a, const fs::path& b) {
  std::error_code error;
  const fs::path one = fs::canonical(a, error);
  const fs::path other = error ? fs::path() : fs::canonical(b, error);
  if (error) return false;  // reading it will tell
  const auto [in_one, in_other] = std::mismatch(one.begin(), one.end(), other.begin(), other.end());
  return in_one == one.end() || in_other == other.end();
}

class Loader {
 public:
  Loader(const RulePaths& paths, std::shared_ptr<SourceSet> sources, Diagnostics& diagnostics,
         LoadFor what)
      : paths_(paths), sources_(std::move(sources)), diagnostics_(diagnostics), what_(what) {}

  KnowledgeLoad load() {
    const auto profile_text = load_profile_text();
    load_rule_texts();
    auto profile = read_texts(profile_text);
    if (!profile || outcome_ != Loaded::good) return {worst(), std::nullopt};
    auto rules = rulebase::resolve(files_, profile->vocabulary, diagnostics_);
    if (!rules || diagnostics_.has_errors()) return {Loaded::input_errors, std::nullopt};
    if (what_ == LoadFor::doubts) rulebase::check_meaning(*rules, diagnostics_);
    return assemble(std::move(*rules), std::move(*profile));
  }

  void tell_own_doubts(const Knowledge& knowledge) {
    if (!paths_.shipped || paths_.own.empty()) return;
    diagnostics_ = api::tell_own_doubts(files_, knowledge.parts().profile, *sources_, diagnostics_);
  }

 private:
  Loaded worst() const { return outcome_ == Loaded::good ? Loaded::input_errors : outcome_; }

  std::optional<SourceId> read(const fs::path& path, std::uintmax_t most_bytes, Origin origin) {
    auto text = read_file(path, most_bytes);
    if (const auto* failure = std::get_if<FileFailure>(&text)) {
      outcome_ = api::worse(outcome_, api::report(*failure, diagnostics_));
      return std::nullopt;
    }
    return sources_->add(path.string(), std::move(std::get<std::string>(text)), origin);
  }

  std::optional<SourceId> load_profile_text() {
    const api::ProfileText text = api::load_profile_text(paths_, *sources_, diagnostics_);
    outcome_ = api::worse(outcome_, text.outcome);
    return text.source;
  }

  /// The YAML of the profile takes about as long as all rule files, and neither needs the other: it
  /// is read beside them. From here on no text is added.
  std::optional<profile::Profile> read_texts(std::optional<SourceId> profile_text) {
    Diagnostics about_profile;
    auto profile = std::async([this, profile_text, &about_profile] {
      return profile_text ? profile::read_profile(*sources_, *profile_text, about_profile)
                          : std::nullopt;
    });
    for (const SourceId source : rule_texts_) {
      files_.push_back(language::parse(*sources_, source, diagnostics_, what_ != LoadFor::jobs));
    }
    auto read = profile.get();
    diagnostics_.append(std::move(about_profile));
    return read;
  }

  void load_rule_texts() {
    if (paths_.shipped) load_folder(*paths_.shipped, Origin::shipped);
    for (const fs::path& own : paths_.own) {
      if (paths_.shipped && overlap(*paths_.shipped, own)) {
        diagnostics_.add(
            api::shipped_twice, std::nullopt,
            fmt::format(
                "`{}` holds or belongs to the shipped rules, which are read anyway: leave it "
                "out, and keep own rules in a folder of their own",
                own.string()));
        outcome_ = api::worse(outcome_, Loaded::input_errors);
        continue;
      }
      std::error_code ignored;
      if (fs::is_directory(own, ignored)) {
        load_folder(own, Origin::own);
      } else {
        load_file(own, Origin::own);
      }
    }
  }

  void load_folder(const fs::path& folder, Origin origin) {
    const auto found = files_below(folder, rule_extension);
    if (const auto* failure = std::get_if<FileFailure>(&found)) {
      outcome_ = api::worse(outcome_, api::report(*failure, diagnostics_));
      return;
    }
    const auto& paths = std::get<std::vector<fs::path>>(found);
    if (paths.empty()) {
      diagnostics_.add(
          api::no_rules, std::nullopt,
          fmt::format("there is no file ending in {} in `{}`", rule_extension, folder.string()));
      outcome_ = api::worse(outcome_, Loaded::input_errors);
    }
    for (const fs::path& path : paths) load_file(path, origin);
  }

  void load_file(const fs::path& path, Origin origin) {
    const auto source = read(path, api::most_rule_bytes, origin);
    if (source) rule_texts_.push_back(*source);
  }

  KnowledgeLoad assemble(rulebase::Rulebase rulebase, profile::Profile profile) {
    const auto rules = std::make_shared<const rulebase::Rulebase>(std::move(rulebase));
    const auto unit = std::make_shared<const profile::Profile>(std::move(profile));
    auto ground = grounding::ground(rules, unit, diagnostics_);
    if (!ground) return {Loaded::input_errors, std::nullopt};
    const auto shared = std::make_shared<const grounding::GroundRules>(std::move(*ground));
    // Neither needs the other.
    auto fingerprint = std::async([&rules] { return rulebase::fingerprint(*rules); });
    Diagnostics about_counts;
    auto network = model::build_network(shared, about_counts);
    if (what_ == LoadFor::doubts) diagnostics_.append(std::move(about_counts));
    auto parts = std::shared_ptr<Knowledge::Parts>(new Knowledge::Parts{
        sources_, unit, shared, std::move(network), files_.size(), fingerprint.get()});
    return {Loaded::good, Knowledge(std::move(parts))};
  }

  const RulePaths& paths_;
  std::shared_ptr<SourceSet> sources_;
  Diagnostics& diagnostics_;
  LoadFor what_;
  Loaded outcome_ = Loaded::good;
  std::vector<SourceId> rule_texts_;
  std::vector<language::File> files_;
};

}  // namespace

std::string Knowledge::unit() const { return parts_->profile->name; }
std::size_t Knowledge::rule_files() const { return parts_->rule_files; }
std::string Knowledge::fingerprint() const { return parts_->fingerprint; }

KnowledgeLoad load_knowledge(const RulePaths& paths, std::shared_ptr<SourceSet> sources,
                             Diagnostics& diagnostics, LoadFor what) {
  Loader loader(paths, std::move(sources), diagnostics, what);
  KnowledgeLoad load = loader.load();
  diagnostics.sort();
  if (load.knowledge && what == LoadFor::doubts) loader.tell_own_doubts(*load.knowledge);
  diagnostics = listed(diagnostics);
  return load;
}

}  // namespace slipcase
