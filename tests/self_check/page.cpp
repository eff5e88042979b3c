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

std::string about_the_history(const Shipped& shipped) {
  constexpr std::string_view words =
      R"(- **Drawn** are causes, insides and findings, one after the other, from the rates of a history: that of one of the
  {} shipped cards, each as likely as the other. What happened to the car, its use and its age are the card's; no
  finding is.
)";
  constexpr std::string_view words_where_drawn_anew =
      R"(  The rate of {} also hangs on an answer that is drawn anew: there it stays as the card has it.
)";
  std::string text = fmt::format(words, shipped.histories.size());
  const auto contradicting = causes_with_drawn_history(shipped);
  if (!contradicting.empty()) text += fmt::format(words_where_drawn_anew, list_of(contradicting));
  return text;
}

std::string about_the_draws(const Run& shop) {
  constexpr std::string_view words =
      R"(  Findings are drawn as the rules link them, not worked out from readings: two that no car shows together can be
  drawn together. Of those of an `at most one` a person then names one: in {} jobs.
- **Known** "as in a shop" is what the last table says; values that the history sets aside are not. Who knows what
  is thrown without looking at the draw.
- **A job comes in** when something is told that is there. In {} draws nothing of the kind was there, in
  {} nobody told it; these were thrown away. It is seen in what is known, so the chances of the jobs left
  stay what they are.
- **Ranked** is by the exact chance; causes that a distrust holds back stand among the others.
)";
  const DrawCounts& draws = shop.draws;
  return fmt::format(words, of_100(draws.two_of_a_list, shop.widths.size()),
                     of_100(draws.nothing_present, draws.drawn),
                     of_100(draws.nothing_told, draws.drawn));
}

std::string about_naming(const Results& results) {
  constexpr std::string_view words = R"(
Who names one of two findings of an `at most one` has chosen, and the ranking does not know it: causes that show two
of one list get a little too much. With both known wherever two were drawn ({} other jobs) chi-square is
{:.1f} (limit {:.1f}), and all causes together are off by {:+.1f}. The causes furthest off, of {}; by chance alone the
worst is off by about 2.4:

)";
  const Run& both = results.shop_both_known;
  const auto verdict = both.causes.verdict();
  return fmt::format(words, both.widths.size(), verdict.chi_square, verdict.limit,
                     both.causes.all().off_by(), both.by_cause.size());
}

}  // namespace

std::string page_text(const Shipped& shipped, const Results& results, const std::string& command) {
  return fmt::format("Made by `{}` from the rules with the fingerprint `{}`.\n\n", command,
                     shipped.knowledge.fingerprint()) +
         about_the_history(shipped) + about_the_draws(results.shop) + "\n" +
         table_of_settings(results) +
         "\nWhether the chances given as in a shop came true, all causes of all jobs:\n\n" +
         table_of_bands(results.shop) + about_naming(results) + table_of_worst_causes(results) +
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

std::string rules_of_page(const std::filesystem::path& page) {
  const std::string text = read_text(page);
  constexpr std::string_view lead = "from the rules with the fingerprint `";
  const std::size_t section = text.find(begin_mark);
  const std::size_t at = section == std::string::npos ? section : text.find(lead, section);
  if (at == std::string::npos || at > text.find(end_mark)) return {};
  const std::size_t first = at + lead.size();
  return text.substr(first, text.find('`', first) - first);
}

}  // namespace self_check
