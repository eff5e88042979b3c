#include "self_check/page.h"

#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string_view>

#include <fmt/core.h>

#include "self_check/words.h"

namespace self_check {

namespace {

constexpr std::string_view begin_mark = "<!-- self-check: made by tests/self_check -->\n";
constexpr std::string_view end_mark = "<!-- end of self-check -->";

std::string read_text(const std::filesystem::path& page) {
  std::ifstream file(page);
  std::ostringstream text;
  text << file.rdbuf();
  return text.str();
}

std::string about_the_draw(const Shipped& shipped, const Run& shop) {
  std::string text = fmt::format(
      "- **Drawn** are causes, insides and findings, one after the other, from the rates of a "
      "history: "
      "that of one of the {} shipped\n  cards, each as likely as the other. What happened to the "
      "car, "
      "its use and its age are the card's; no finding is.\n",
      shipped.histories.size());
  const auto contradicting = causes_with_drawn_history(shipped);
  if (!contradicting.empty())
    text += fmt::format(
        "  The rate of {} also hangs on an answer that is drawn anew: there it stays as the card "
        "has "
        "it.\n",
        list_of(contradicting));
  return text +
         fmt::format(
             "  Findings are drawn as the rules link them, not worked out from readings: two "
             "that no car could show together can be\n  drawn together. Of those of an `at most "
             "one` a person then names one; that was so in {} jobs.\n",
             of_100(shop.draws.two_of_a_list, shop.widths.size()));
}

std::string about_the_rest(const Run& shop) {
  const auto& draws = shop.draws;
  return fmt::format(
             "- **Known** \"as in a shop\" is what the last table says; values that the history "
             "sets "
             "aside are not. Who knows what is\n  thrown without looking at the draw.\n"
             "- **A job comes in** when something is told that is there. In {} draws nothing of "
             "the "
             "kind was there, in {} nobody told it;\n  these were thrown away. It is seen in what "
             "is "
             "known, so the chances of the jobs that are left stay what they are.\n",
             of_100(draws.nothing_present, draws.drawn), of_100(draws.nothing_told, draws.drawn)) +
         "- **Ranked** is by the exact chance; causes that a distrust holds back stand among the "
         "others.\n";
}

}  // namespace

std::string page_text(const Shipped& shipped, const Results& results, const std::string& command) {
  return fmt::format("Made by `{}` from the rules with the fingerprint `{}`.\n\n", command,
                     shipped.knowledge.fingerprint()) +
         about_the_draw(shipped, results.shop) + about_the_rest(results.shop) + "\n" +
         table_of_settings(results) +
         "\nWhether the chances given as in a shop came true, all causes of all jobs:\n\n" +
         table_of_bands(results.shop) +
         "\nThe true cause is not in the rules: jobs with one fault, as in a shop, ranked with and "
         "without its cause:\n\n" +
         table_of_absent(results.absent) +
         "\nAnd what was named instead, first those that mislead in most jobs:\n\n" +
         table_of_pairs(results.absent) + "\n" + table_of_known_shares();
}

void write_page(const std::filesystem::path& page, const std::string& text) {
  const std::string before = read_text(page);
  const auto begin = before.find(begin_mark);
  const auto end = before.find(end_mark);
  if (begin == std::string::npos || end == std::string::npos || end < begin)
    throw std::runtime_error(page.string() + " has no place for the self-check");
  std::ofstream file(page);
  file << before.substr(0, begin) << begin_mark << text << before.substr(end);
  if (!file.good()) throw std::runtime_error("could not write " + page.string());
}

bool page_is_of(const std::filesystem::path& page, const std::string& fingerprint) {
  return read_text(page).find(fingerprint) != std::string::npos;
}

}  // namespace self_check
