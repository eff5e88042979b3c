#include "book/book_list.h"

#include <algorithm>
#include <array>
#include <map>

#include <fmt/core.h>

#include "support/ascii.h"
#include "units/quantity.h"

namespace slipcase::book {

namespace {

using facts::Node;
using facts::NodeKind;

std::string text_of(const Node* map, std::string_view key) {
  const Node* value = map == nullptr ? nullptr : map->find(key);
  return value != nullptr && value->kind == NodeKind::scalar ? value->text : std::string();
}

std::vector<std::string> texts_of(const Node* map, std::string_view key) {
  const Node* value = map == nullptr ? nullptr : map->find(key);
  if (value == nullptr) return {};
  if (value->kind == NodeKind::scalar) return {value->text};
  std::vector<std::string> texts;
  for (const Node& item : value->items)
    if (item.kind == NodeKind::scalar) texts.push_back(item.text);
  return texts;
}

bool has(const std::string& text, const std::string& word) {
  return in_small_letters(text).find(in_small_letters(word)) != std::string::npos;
}

bool any_has(const std::vector<std::string>& texts, const std::string& word) {
  return std::any_of(texts.begin(), texts.end(),
                     [&word](const std::string& text) { return has(text, word); });
}

}  // namespace

std::optional<BookCard> card_of(const Node& head) {
  constexpr std::array<std::string_view, 5> marks{"opened", "complaint", "vehicle", "job",
                                                  "outcome"};
  const bool is_card = head.find("profile") == nullptr &&
                       std::any_of(marks.begin(), marks.end(), [&head](std::string_view key) {
                         return head.find(key) != nullptr;
                       });
  if (!is_card) return std::nullopt;
  const Node* complaint = head.find("complaint");
  const Node* outcome = head.find("outcome");
  BookCard card;
  card.job = text_of(&head, "job");
  card.unit = text_of(&head, "unit");
  card.vehicle = text_of(head.find("vehicle"), "ref");
  card.odometer = text_of(head.find("vehicle"), "odometer");
  card.opened = text_of(&head, "opened");
  card.complaint = text_of(complaint, "text");
  std::replace(card.complaint.begin(), card.complaint.end(), '\n', ' ');
  card.findings = texts_of(complaint, "findings");
  card.closed = text_of(outcome, "closed");
  card.confirmed = texts_of(outcome, "confirmed");
  return card;
}

bool fits(const BookCard& card, const BookQuery& query) {
  if (query.closed && *query.closed != card.is_closed()) return false;
  if (!has(card.vehicle, query.vehicle)) return false;
  const auto in_complaint = [&card](const std::string& word) {
    return has(card.complaint, word) || any_has(card.findings, word);
  };
  if (!query.complaint.empty() && !in_complaint(query.complaint)) return false;
  if (!query.cause.empty() && !any_has(card.confirmed, query.cause)) return false;
  return query.any.empty() || has(card.job, query.any) || has(card.vehicle, query.any) ||
         has(card.file.filename().string(), query.any) || in_complaint(query.any) ||
         any_has(card.confirmed, query.any);
}

void sort_cards(std::vector<BookCard>& cards) {
  std::sort(cards.begin(), cards.end(), [](const BookCard& a, const BookCard& b) {
    return a.opened != b.opened ? a.opened > b.opened : a.file < b.file;
  });
}

}  // namespace slipcase::book

namespace slipcase {

namespace {

/// Two cards of one vehicle of which the later one shows a lower odometer.
void add_falling_odometers(std::span<const BookCard> cards, std::vector<BookDoubt>& doubts) {
  struct Visit {
    const BookCard* card;
    double odometer;
  };
  std::map<std::string, std::vector<Visit>> vehicles;
  for (const BookCard& card : cards) {
    const auto quantity = units::parse_quantity(card.odometer).quantity;
    if (card.vehicle.empty() || card.opened.empty() || !quantity) continue;
    vehicles[in_small_letters(card.vehicle)].push_back({&card, quantity->value});
  }
  for (auto& [vehicle, visits] : vehicles) {
    std::stable_sort(visits.begin(), visits.end(), [](const Visit& a, const Visit& b) {
      return a.card->opened < b.card->opened;
    });
    for (std::size_t i = 1; i < visits.size(); ++i) {
      const Visit& before = visits[i - 1];
      const Visit& after = visits[i];
      if (after.card->opened == before.card->opened || after.odometer >= before.odometer) continue;
      doubts.push_back(
          {{before.card->file, after.card->file},
           fmt::format("the odometer of `{}` falls from {} on {} to {} on {}: is one "
                       "of them wrong, or was it replaced?",
                       before.card->vehicle, before.card->odometer, before.card->opened,
                       after.card->odometer, after.card->opened)});
    }
  }
}

}  // namespace

std::vector<BookDoubt> doubts_between(std::span<const BookCard> cards) {
  std::map<std::string, std::vector<std::filesystem::path>> jobs;
  for (const BookCard& card : cards)
    if (!card.job.empty()) jobs[card.job].push_back(card.file);
  std::vector<BookDoubt> doubts;
  for (auto& [job, files] : jobs) {
    if (files.size() < 2) continue;
    std::sort(files.begin(), files.end());
    doubts.push_back({files, fmt::format("{} cards have the job `{}`: give each its own name",
                                         files.size(), job)});
  }
  add_falling_odometers(cards, doubts);
  return doubts;
}

}  // namespace slipcase
