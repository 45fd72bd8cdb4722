#pragma once

#include <expected>
#include <string>
#include <utility>

#include <fmt/format.h>

namespace pitwright {

/// What a caller can do about a failure; the words for people go in Error::what.
enum class ErrorKind { bad_input, not_found, conflict, unavailable };

/// A failure of the world, never of our own code. `what` is one sentence a person can act on; it
/// names file, line and column where there is one.
struct Error {
  ErrorKind kind;
  std::string what;
};

template <typename T>
using Result = std::expected<T, Error>;

/// `return fail(ErrorKind::bad_input, "line {}: ...", n);` from any function returning a Result.
template <typename... Args>
std::unexpected<Error> fail(ErrorKind kind, fmt::format_string<Args...> text, Args&&... args) {
  return std::unexpected(Error{kind, fmt::format(text, std::forward<Args>(args)...)});
}

}  // namespace pitwright
