// What the commands about a unit and its learning drive take.
#include "options.h"

namespace slipcase::cli {

namespace {

void add_procedure(CLI::App& command, std::string& procedure) {
  command.add_option("--procedure", procedure, "Procedure of the profile; its first if left out")
      ->type_name("NAME")
      ->check(not_empty());
}

}  // namespace

Added add_ratio(CLI::App& app, Request& request) {
  const auto ratio = std::make_shared<RatioCommand>();
  RatioQuestion& question = ratio->question;
  CLI::App* command = app.add_subcommand("ratio", "Gear ratios; slip from two speeds");
  command->add_option("--gear", question.gear, "The gear that was driven, for example 4 or R")
      ->type_name("GEAR");
  command->add_option("--turbine", question.turbine, "Turbine speed, for example \"1790 rpm\"")
      ->type_name("SPEED");
  command
      ->add_option("--output", question.output,
                   "Output speed, for example \"1500 rpm\"; negative in reverse")
      ->type_name("SPEED");
  add_calculator_options(*command, request);
  return added(command, ratio);
}

Added add_level(CLI::App& app, Request& request) {
  const auto level = std::make_shared<LevelCommand>();
  LevelQuestion& question = level->question;
  CLI::App* command = app.add_subcommand(
      "level", "What a fluid level is worth that was set at another temperature");
  command
      ->add_option("--set-at", question.set_at,
                   "Temperature of the fluid when the level was set, for example \"20 C\"")
      ->type_name("TEMPERATURE")
      ->required();
  command->add_option("--at", question.at, "Temperature asked about, instead of the unit's own")
      ->type_name("TEMPERATURE");
  command->add_option("--fill", question.fill, "Fluid in the unit, instead of the profile's")
      ->type_name("VOLUME");
  command
      ->add_option("--density", question.density,
                   "Density of the fluid at 15 C, for example \"845 kg/m3\"")
      ->type_name("DENSITY");
  add_calculator_options(*command, request);
  return added(command, level);
}

Added add_code(CLI::App& app, Request& request) {
  const auto code = std::make_shared<CodeCommand>();
  CLI::App* command = app.add_subcommand("code", "What trouble codes mean on the unit");
  command->add_option("CODE", code->words, "Codes such as P0733, or their two bytes: 07 33, 0x0733")
      ->required();
  add_calculator_options(*command, request);
  return added(command, code);
}

Added add_drive_sheet(CLI::App& drive, Request& request) {
  const auto sheet = std::make_shared<DriveSheetCommand>();
  CLI::App* command = drive.add_subcommand(
      "sheet", "What the card proves before the learning drive, and the sheet to tick");
  add_card(*command, sheet->card);
  add_procedure(*command, sheet->procedure);
  add_rule_options(*command, request);
  return added(command, sheet);
}

Added add_drive_check(CLI::App& drive, Request& request) {
  const auto check = std::make_shared<DriveCheckCommand>();
  CLI::App* command = drive.add_subcommand(
      "check", "Whether a logged drive was a learning drive, and whether values still move");
  add_card(*command, check->card);
  command->add_option("LOG", check->paths.log, "The drive as CSV")->required()->check(not_empty());
  command
      ->add_option("--columns", check->paths.mapping, "Mapping: what the columns of the log mean")
      ->type_name("FILE")
      ->required()
      ->check(not_empty());
  CLI::Option* record = command->add_flag("--record", check->record,
                                          "Write the drive onto the card, if it is complete");
  command->add_option("--date", check->day, "Day of the drive that is written; today if left out")
      ->type_name("DAY")
      ->needs(record);
  command
      ->add_option("--odometer", check->odometer,
                   "Odometer after the drive, for example \"148250 km\"")
      ->type_name("DISTANCE")
      ->needs(record);
  add_procedure(*command, check->procedure);
  add_rule_options(*command, request);
  return added(command, check);
}

}  // namespace slipcase::cli
