// What the commands of the job book take.
#include "options.h"

namespace slipcase::cli {

namespace {

/// When and how all of it was read.
void add_session(CLI::App& command, NewReadings& given) {
  const auto text = [&command](const char* name, std::string& into, const char* kind,
                               const char* says) {
    command.add_option(name, into, says)->type_name(kind)->check(not_empty());
  };
  text("--date", given.date, "DAY", "When it was read: \"2031-04-17\" or \"2031-04-17 14:30\"");
  text("--odometer", given.odometer, "DISTANCE", "Where it was read, for example \"148200 km\"");
  text("--software", given.software, "TEXT", "Level of the controller's program");
  text("--fluid-temperature", given.fluid_temperature, "TEMPERATURE",
       "Of the fluid when it was read, for example \"84 C\"");
}

}  // namespace

Added add_book_list(CLI::App& book, Request& request) {
  const auto list = std::make_shared<BookListCommand>();
  list->book = ".";
  CLI::App* command = book.add_subcommand("list", "The cards of the book, newest first");
  command->add_option("WORD", list->query.any, "Only what has this word in it");
  command->add_option("--vehicle", list->query.vehicle, "Only of vehicles with this in their name")
      ->type_name("TEXT");
  command->add_option("--complaint", list->query.complaint, "Only with this in the complaint")
      ->type_name("TEXT");
  command->add_option("--cause", list->query.cause, "Only with this in a confirmed cause")
      ->type_name("TEXT");
  CLI::Option* open = command->add_flag(
      "--open", [list](std::int64_t) { list->query.closed = false; }, "Only jobs that are open");
  command
      ->add_flag(
          "--closed", [list](std::int64_t) { list->query.closed = true; },
          "Only jobs that are closed")
      ->excludes(open);
  add_book(*command, list->book);
  add_json(*command, request.output);
  return added(command, list);
}

Added add_book_show(CLI::App& book, Request& request) {
  const auto show = std::make_shared<BookShowCommand>();
  show->book = ".";
  CLI::App* command = book.add_subcommand("show", "One card, as people read it");
  add_job(*command, show->job);
  add_book(*command, show->book);
  add_rule_options(*command, request);
  return added(command, show);
}

Added add_book_close(CLI::App& book, Request& request) {
  const auto close = std::make_shared<BookCloseCommand>();
  close->book = ".";
  Closing& closing = close->closing;
  CLI::App* command =
      book.add_subcommand("close", "What it was, what was repaired, and whether that held");
  add_job(*command, close->job);
  const auto many = [command](const char* name, std::vector<std::string>& list, const char* kind,
                              const char* says) {
    command->add_option(name, list, says)->type_name(kind)->allow_extra_args(false);
  };
  many("--confirmed", closing.confirmed, "CAUSE",
       "Found to be so, for example \"lining_worn of K2\"; can be repeated");
  many("--sound", closing.sound, "CAUSE", "Looked at and found not to be so; can be repeated");
  many("--repaired", closing.repaired, "REPAIR",
       "Done, for example \"element_pack of K2\"; can be repeated, the one that --complaint is "
       "about first");
  command->add_option("--complaint", closing.complaint, "After the repair: gone, same or back")
      ->type_name("WORD")
      ->check(CLI::IsMember({"gone", "same", "back"}));
  command
      ->add_option("--after", closing.after,
                   "How far or how long it was driven until that was known, for example \"300 km\"")
      ->type_name("DISTANCE");
  command->add_option("--date", closing.day, "Day of closing; today if left out")->type_name("DAY");
  command->add_option("--note", closing.note, "In own words")->type_name("TEXT");
  add_book(*command, close->book);
  add_rule_options(*command, request);
  return added(command, close);
}

Added add_book_reading(CLI::App& book, Request& request) {
  const auto reading = std::make_shared<AddReadingCommand>();
  reading->book = ".";
  NewReadings& given = reading->given;
  CLI::App* command =
      book.add_subcommand("add-reading", "Readings onto a card, from a table or typed in");
  add_job(*command, reading->job);
  CLI::Option* value =
      command
          ->add_option("--value", given.values,
                       "What was read, for example \"fill_pressure of K1=40 mbar\" or "
                       "\"fill_time of K1=not learned\"; can be repeated")
          ->type_name("READING=VALUE")
          ->allow_extra_args(false);
  CLI::Option* table = command->add_option("--table", given.table, "What the tool exported, as CSV")
                           ->type_name("FILE")
                           ->check(not_empty())
                           ->excludes(value);
  CLI::Option* columns =
      command->add_option("--columns", given.mapping, "Mapping: what the columns of the table mean")
          ->type_name("FILE")
          ->check(not_empty())
          ->needs(table);
  table->needs(columns);
  add_session(*command, given);
  add_book(*command, reading->book);
  add_rule_options(*command, request);
  return added(command, reading);
}

Added add_book_check(CLI::App& book, Request& request) {
  const auto check = std::make_shared<BookCheckCommand>();
  check->book = ".";
  CLI::App* command = book.add_subcommand("check", "Read every card and list every problem");
  add_book(*command, check->book);
  add_rule_options(*command, request);
  return added(command, check);
}

}  // namespace slipcase::cli
