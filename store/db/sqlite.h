#pragma once

#include <chrono>
#include <cstdint>
#include <map>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>

#include "base/result.h"

struct sqlite3;
struct sqlite3_stmt;

namespace pitwright::db {

/// Why a call of the store failed, on its way up to answer(). It never leaves this room.
struct Refusal {
  Error error;
};

template <typename... Args>
[[noreturn]] void refuse(ErrorKind kind, fmt::format_string<Args...> text, Args&&... args) {
  throw Refusal{{kind, fmt::format(text, std::forward<Args>(args)...)}};
}

/// Runs the body of a public member and turns a Refusal into the Error it carries.
template <typename Body>
auto answer(Body&& body) -> Result<decltype(body())> {
  try {
    if constexpr (std::is_void_v<decltype(body())>) {
      body();
      return {};
    } else {
      return body();
    }
  } catch (Refusal& refusal) {
    return std::unexpected(std::move(refusal.error));
  }
}

class Connection;

/// A prepared statement. Bind with with(), then step() row by row; columns count from 0.
class Statement {
 public:
  Statement(Connection& connection, std::string_view sql);

  /// Starts anew with these values, in the order of the question marks. Texts are copied; a NaN is
  /// bound as NULL.
  template <typename... Values>
  Statement& with(const Values&... values) {
    reset();
    int index = 0;
    (bind(++index, values), ...);
    return *this;
  }

  /// Goes to the next row; false where there is none. Throws Refusal.
  bool step();

  /// For statements without rows.
  void run() {
    while (step()) {
    }
    reset();
  }

  void reset();

  bool is_null(int column) const;
  std::int64_t integer(int column) const;
  double real(int column) const;  ///< NaN for NULL
  std::string text(int column) const;
  std::string_view blob(int column) const;  ///< until the next step

  std::optional<std::int64_t> maybe_integer(int column) const {
    return is_null(column) ? std::nullopt : std::optional(integer(column));
  }

 private:
  void bind(int index, std::int64_t value);
  void bind(int index, int value) { bind(index, std::int64_t{value}); }
  void bind(int index, bool value) { bind(index, std::int64_t{value}); }
  void bind(int index, double value);
  void bind(int index, std::string_view text);
  void bind(int index, const std::string& text) { bind(index, std::string_view(text)); }
  void bind(int index, const char* text) { bind(index, std::string_view(text)); }
  void bind(int index, std::span<const std::byte> blob);
  void bind(int index, std::nullopt_t);
  template <typename T>
  void bind(int index, const std::optional<T>& value) {
    if (value) {
      bind(index, *value);
    } else {
      bind(index, std::nullopt);
    }
  }
  void check(int code) const;

  struct Finalizer {
    void operator()(sqlite3_stmt* statement) const;
  };
  Connection* connection_;
  std::unique_ptr<sqlite3_stmt, Finalizer> statement_;
};

/// An open database file: write-ahead log, every commit on the disk before it returns.
class Connection {
 public:
  /// Throws Refusal: not_found where the file is not there and `make` is false; unavailable.
  Connection(std::string path, bool make, std::chrono::milliseconds patience);

  const std::string& path() const { return path_; }

  /// Runs a script without results.
  void run(const std::string& script);

  Statement prepare(std::string_view sql) { return Statement(*this, sql); }

  /// The same statement every time; for the ones that run often. `sql` is a literal.
  Statement& cached(std::string_view sql);

  /// Rows that the last statement inserted or changed.
  std::int64_t changes() const;

  /// Throws the Refusal that fits SQLite's code, in words for people.
  [[noreturn]] void trouble(int code) const;

  /// Throws the Refusal for a damaged file; `how` says by what it was noticed.
  [[noreturn]] void damaged(std::string_view how) const;

  sqlite3* handle() const { return handle_.get(); }

 private:
  struct Closer {
    void operator()(sqlite3* handle) const;
  };
  std::string path_;
  std::chrono::milliseconds patience_;
  std::unique_ptr<sqlite3, Closer> handle_;
  std::map<std::string_view, Statement> cached_;
};

/// All or nothing: what is not committed is rolled back.
class Transaction {
 public:
  enum class For { writing, reading };

  /// Waits for its turn to write; a reader waits for nobody and sees one state throughout.
  explicit Transaction(Connection& connection, For purpose = For::writing);
  ~Transaction();
  Transaction(const Transaction&) = delete;
  Transaction& operator=(const Transaction&) = delete;

  /// Returns when the changes are on the disk.
  void commit();

 private:
  Connection& connection_;
  bool open_ = true;
};

}  // namespace pitwright::db
