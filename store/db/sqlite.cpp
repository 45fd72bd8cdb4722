#include "db/sqlite.h"

#include <cerrno>
#include <cmath>
#include <filesystem>
#include <limits>

#include <sqlite3.h>

namespace pitwright::db {

void Statement::Finalizer::operator()(sqlite3_stmt* statement) const {
  sqlite3_finalize(statement);
}

void Connection::Closer::operator()(sqlite3* handle) const {
  sqlite3_close_v2(handle);
}

Statement::Statement(Connection& connection, std::string_view sql) : connection_(&connection) {
  sqlite3_stmt* made = nullptr;
  check(sqlite3_prepare_v3(connection.handle(), sql.data(), static_cast<int>(sql.size()), 0, &made,
                           nullptr));
  statement_.reset(made);
}

void Statement::check(int code) const {
  if (code != SQLITE_OK) connection_->trouble(code);
}

bool Statement::step() {
  const int code = sqlite3_step(statement_.get());
  if (code == SQLITE_ROW) return true;
  if (code == SQLITE_DONE) return false;
  sqlite3_reset(statement_.get());
  connection_->trouble(code);
}

void Statement::reset() {
  sqlite3_reset(statement_.get());  // repeats the code of the last step, which was told then
}

bool Statement::is_null(int column) const {
  return sqlite3_column_type(statement_.get(), column) == SQLITE_NULL;
}

std::int64_t Statement::integer(int column) const {
  return sqlite3_column_int64(statement_.get(), column);
}

double Statement::real(int column) const {
  return is_null(column) ? std::numeric_limits<double>::quiet_NaN()
                         : sqlite3_column_double(statement_.get(), column);
}

std::string Statement::text(int column) const {
  return std::string(blob(column));
}

std::string_view Statement::blob(int column) const {
  const auto* bytes = static_cast<const char*>(sqlite3_column_blob(statement_.get(), column));
  const int size = sqlite3_column_bytes(statement_.get(), column);
  return bytes == nullptr ? std::string_view()
                          : std::string_view(bytes, static_cast<std::size_t>(size));
}

void Statement::bind(int index, std::int64_t value) {
  check(sqlite3_bind_int64(statement_.get(), index, value));
}

void Statement::bind(int index, double value) {
  check(sqlite3_bind_double(statement_.get(), index, value));
}

void Statement::bind(int index, std::string_view text) {
  const char* bytes = text.data() == nullptr ? "" : text.data();
  check(sqlite3_bind_text64(statement_.get(), index, bytes, text.size(), SQLITE_TRANSIENT,
                            SQLITE_UTF8));
}

void Statement::bind(int index, std::span<const std::byte> blob) {
  const void* bytes = blob.data() == nullptr ? static_cast<const void*>("") : blob.data();
  check(sqlite3_bind_blob64(statement_.get(), index, bytes, blob.size(), SQLITE_TRANSIENT));
}

void Statement::bind(int index, std::nullopt_t) {
  check(sqlite3_bind_null(statement_.get(), index));
}

Connection::Connection(std::string path, bool make, std::chrono::milliseconds patience)
    : path_(std::move(path)), patience_(patience) {
  std::error_code unknown;
  if (!make && !std::filesystem::exists(path_, unknown)) {
    refuse(ErrorKind::not_found, "{}: there is no store yet; 'pitwright keep BURN' makes one",
           path_);
  }
  sqlite3* opened = nullptr;
  const int flags = SQLITE_OPEN_READWRITE | SQLITE_OPEN_NOMUTEX | SQLITE_OPEN_EXRESCODE |
                    (make ? SQLITE_OPEN_CREATE : 0);
  const int code = sqlite3_open_v2(path_.c_str(), &opened, flags, nullptr);
  handle_.reset(opened);
  if (code != SQLITE_OK) trouble(code);
  sqlite3_busy_timeout(handle_.get(), static_cast<int>(patience_.count()));
  if (sqlite3_db_readonly(handle_.get(), "main") == 1) trouble(SQLITE_READONLY);
  run("PRAGMA foreign_keys = ON; PRAGMA trusted_schema = OFF; PRAGMA temp_store = MEMORY");
  // In write-ahead logging FULL is what puts every commit on the disk; NORMAL would wait for a
  // checkpoint, and a loss of power could take acknowledged batches with it.
  auto mode = prepare("PRAGMA journal_mode = WAL");
  if (!mode.step() || mode.text(0) != "wal") {
    refuse(ErrorKind::unavailable,
           "{}: this place cannot hold a store (no shared memory there; a network drive?); name "
           "another with --database",
           path_);
  }
  mode.reset();
  run("PRAGMA synchronous = FULL");
}

void Connection::run(const std::string& script) {
  const int code = sqlite3_exec(handle_.get(), script.c_str(), nullptr, nullptr, nullptr);
  if (code != SQLITE_OK) trouble(code);
}

Statement& Connection::cached(std::string_view sql) {
  auto found = cached_.find(sql);
  if (found == cached_.end()) found = cached_.emplace(sql, Statement(*this, sql)).first;
  return found->second;
}

std::int64_t Connection::changes() const {
  return sqlite3_changes64(handle_.get());
}

void Connection::trouble(int code) const {
  const int primary = code & 0xff;
  const bool no_room = primary == SQLITE_FULL || (handle_ && primary == SQLITE_IOERR &&
                                                  sqlite3_system_errno(handle_.get()) == ENOSPC);
  if (no_room) {
    refuse(ErrorKind::unavailable,
           "{}: the disk is full; nothing of this was written; make room and do it again", path_);
  }
  switch (primary) {
    case SQLITE_BUSY:
    case SQLITE_LOCKED:
      refuse(ErrorKind::unavailable,
             "{}: another process has been writing to it for over {:.3g} s; do it again when that "
             "has ended",
             path_, std::chrono::duration<double>(patience_).count());
    case SQLITE_READONLY:
    case SQLITE_PERM:
    case SQLITE_CANTOPEN:
      refuse(ErrorKind::unavailable,
             "{}: the store cannot be written there; the file and its folder must be yours to "
             "write, or name another place with --database",
             path_);
    case SQLITE_CORRUPT:
      damaged(sqlite3_errstr(code));
    case SQLITE_NOTADB:
      refuse(ErrorKind::unavailable,
             "{}: this file is no pitwright store, or its beginning is damaged; name another one "
             "with --database, or put a copy of it back in place",
             path_);
    case SQLITE_IOERR:
      refuse(ErrorKind::unavailable, "{}: the disk reports an error ({}); nothing was written",
             path_, sqlite3_errstr(code));
    default:
      refuse(ErrorKind::unavailable, "{}: {}", path_,
             handle_ ? sqlite3_errmsg(handle_.get()) : sqlite3_errstr(code));
  }
}

void Connection::damaged(std::string_view how) const {
  refuse(ErrorKind::unavailable,
         "{}: the store is damaged ({}); put a copy of it back in place, with the -wal file beside "
         "it if it has one",
         path_, how);
}

Transaction::Transaction(Connection& connection, For purpose) : connection_(connection) {
  connection_.run(purpose == For::writing ? "BEGIN IMMEDIATE" : "BEGIN");
}

Transaction::~Transaction() {
  // A failed statement may have rolled back by itself; then there is nothing left to undo.
  if (open_ && sqlite3_get_autocommit(connection_.handle()) == 0) {
    sqlite3_exec(connection_.handle(), "ROLLBACK", nullptr, nullptr, nullptr);
  }
}

void Transaction::commit() {
  connection_.run("COMMIT");
  open_ = false;
}

}  // namespace pitwright::db
