// The job book: files of a folder to cards.
#include "slipcase/book.h"

#include <algorithm>
#include <atomic>
#include <thread>

#include <fmt/core.h>

#include "api/messages.h"
#include "api/parts.h"
#include "api/reading.h"
#include "book/book_list.h"
#include "book/card_account.h"
#include "book/card_head.h"
#include "facts/job_card.h"

namespace slipcase {

namespace {

namespace fs = std::filesystem;

std::vector<fs::path> card_files(const fs::path& folder, Loaded& outcome,
                                 Diagnostics& diagnostics) {
  std::error_code code;
  if (!fs::is_directory(folder, code)) {
    diagnostics.add(api::book_unreadable, std::nullopt,
                    fmt::format("there is no folder `{}`: check the path", folder.string()));
    outcome = Loaded::input_errors;
    return {};
  }
  std::vector<fs::path> all;
  for (const std::string_view extension : {".yaml", ".yml", ".json"}) {
    auto found = files_below(folder, extension);
    if (const auto* failure = std::get_if<FileFailure>(&found)) {
      outcome = api::worse(outcome, api::report(*failure, diagnostics));
      return {};
    }
    const auto& files = std::get<std::vector<fs::path>>(found);
    all.insert(all.end(), files.begin(), files.end());
  }
  std::sort(all.begin(), all.end());
  return all;
}

struct HeadOfFile {
  enum class Kind : std::uint8_t { card, other, unread } kind = Kind::unread;
  BookCard card;
};

HeadOfFile read_file_head(const fs::path& path) {
  const auto text = read_file(path, most_card_bytes);
  if (!std::holds_alternative<std::string>(text)) return {};
  const auto head = book::read_head(std::get<std::string>(text));
  if (!head) return {};
  auto card = book::card_of(*head);
  if (!card) return {HeadOfFile::Kind::other, {}};
  card->file = path.lexically_normal();
  return {HeadOfFile::Kind::card, std::move(*card)};
}

/// Each by whichever thread is free; the order stays that of the files.
std::vector<HeadOfFile> read_heads(const std::vector<fs::path>& files) {
  constexpr std::size_t worth_a_thread = 64;
  std::vector<HeadOfFile> heads(files.size());
  std::atomic<std::size_t> next{0};
  const auto work = [&] {
    for (std::size_t i = next++; i < files.size(); i = next++) heads[i] = read_file_head(files[i]);
  };
  const std::size_t wanted = files.size() / worth_a_thread;
  const std::size_t most = std::max(1U, std::thread::hardware_concurrency()) - 1;
  std::vector<std::thread> threads;
  for (std::size_t i = 0; i < std::min(wanted, most); ++i) threads.emplace_back(work);
  work();
  for (std::thread& thread : threads) thread.join();
  return heads;
}

}  // namespace

BookList list_book(const fs::path& folder, const BookQuery& query, Diagnostics& diagnostics) {
  BookList list;
  const std::vector<fs::path> files = card_files(folder, list.outcome, diagnostics);
  std::vector<HeadOfFile> heads = read_heads(files);
  for (std::size_t i = 0; i < files.size(); ++i) {
    HeadOfFile& head = heads[i];
    if (head.kind == HeadOfFile::Kind::unread) list.unread.push_back(files[i].lexically_normal());
    if (head.kind == HeadOfFile::Kind::other) ++list.others;
    if (head.kind != HeadOfFile::Kind::card) continue;
    ++list.in_book;
    if (book::fits(head.card, query)) list.cards.push_back(std::move(head.card));
  }
  book::sort_cards(list.cards);
  return list;
}

bool check_card(CardText card, const Knowledge& knowledge, Diagnostics& diagnostics) {
  return load_job(std::move(card), knowledge, diagnostics).job.has_value();
}

CardAccount account_of(const CardText& card, const Knowledge& knowledge) {
  SourceSet sources;
  Diagnostics ignored;
  const SourceId source = sources.add(card.name, card.text);
  const auto root = facts::read_document(sources, source, facts::card_limits, ignored);
  BookCard head;
  if (root) head = book::card_of(*root).value_or(BookCard{});
  head.file = card.name;
  if (root) return book::account(*root, std::move(head), *knowledge.parts().ground);
  CardAccount nothing;
  nothing.head = std::move(head);
  return nothing;
}

}  // namespace slipcase
