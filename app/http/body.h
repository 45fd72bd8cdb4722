#pragma once

#include <memory>
#include <optional>
#include <set>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"
#include "db/records.h"

namespace pitwright::http {

/// A JSON object that a request carries, read key by key. The first mistake is kept; `finish` gives
/// it, or names a key nobody asked for. Null counts as missing.
class Body {
 public:
  /// Fails: bad_input where the text is not one JSON object.
  static Result<Body> object(std::string_view text);
  /// The same for a list of objects, at most `most` of them.
  static Result<std::vector<Body>> list(std::string_view text, std::size_t most);

  bool has(std::string_view key) const;
  std::optional<std::string> text(std::string_view key, std::size_t most_bytes = 200);
  std::optional<double> number(std::string_view key);
  std::optional<bool> truth(std::string_view key);
  std::optional<db::Stamp> stamp(std::string_view key);
  std::optional<std::vector<std::string>> texts(std::string_view key);
  std::optional<std::vector<Body>> objects(std::string_view key, std::size_t most);

  void require(std::string_view key);
  void wrong(std::string_view key, std::string_view expected);
  /// Fails: bad_input, the first mistake.
  Result<void> finish() const;

 private:
  struct Inside;
  explicit Body(std::shared_ptr<Inside> inside) : inside_(std::move(inside)) {}
  std::shared_ptr<Inside> inside_;
};

}  // namespace pitwright::http
