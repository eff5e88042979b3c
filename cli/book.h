// The job book: list, show, close, check.
#pragma once

#include "command_line.h"
#include "slipcase/book.h"

namespace slipcase::cli {

/// The cards of the folder that fit, what could not be read told.
[[nodiscard]] std::variant<BookList, Exit> read_book(const Request& request,
                                                     const std::filesystem::path& folder,
                                                     const BookQuery& query);

/// A card by its file, or by the name of its job in the book; told where there is none.
[[nodiscard]] std::variant<std::filesystem::path, Exit> find_card(const Request& request,
                                                                  const std::filesystem::path& book,
                                                                  const std::string& name);

[[nodiscard]] Exit run_command(const Request& request, const BookListCommand& command);
[[nodiscard]] Exit run_command(const Request& request, const BookShowCommand& command);
[[nodiscard]] Exit run_command(const Request& request, const BookCloseCommand& command);
[[nodiscard]] Exit run_command(const Request& request, const BookCheckCommand& command);

}  // namespace slipcase::cli
