#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include <nlohmann/json_fwd.hpp>

#include "base/result.h"

namespace pitwright::feed {

/// A place or places in a JSON document.
///
/// Two ways to write one: an RFC 6901 pointer ("/probes/0/temp", "" for the whole), or a path of
/// RFC 9535 that starts with '$'. Of RFC 9535 child segments are understood: .name, ['name'],
/// ["name"], [index] (negative counts from the end), [*] and .*; no descendants, slices, filters.
class Selector {
 public:
  /// Fails: bad_input saying at which letter.
  static Result<Selector> parse(std::string_view text);

  /// All values that are there, in order of the document (members of an object in the order of
  /// their names).
  std::vector<const nlohmann::json*> all(const nlohmann::json& document) const;
  /// The first of them; nullptr: none.
  const nlohmann::json* first(const nlohmann::json& document) const;
  /// Whether it may give more than one value.
  bool many() const;
  /// The first member's name; empty where it does not begin with one.
  std::string first_name() const;
  const std::string& text() const { return text_; }

 private:
  struct Every {};
  /// A token of a pointer: a member's name, or an index where it meets an array.
  struct Token {
    std::string text;
  };
  using Step = std::variant<Every, Token, std::string, long long>;
  static Result<std::vector<Step>> pointer_steps(std::string_view text);
  static Result<std::vector<Step>> path_steps(std::string_view text);
  static void take(const Step& step, const nlohmann::json& from,
                   std::vector<const nlohmann::json*>& to);

  std::string text_;
  std::vector<Step> steps_;
};

}  // namespace pitwright::feed
