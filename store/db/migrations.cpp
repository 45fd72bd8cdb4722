#include "db/migrations.h"

#include <fmt/format.h>

namespace pitwright::db {
namespace {

/// "ptwr": marks the file as ours.
constexpr std::int64_t application = 0x70747772;

std::int64_t pragma(Connection& connection, std::string_view name) {
  auto ask = connection.prepare(fmt::format("PRAGMA {}", name));
  ask.step();
  return ask.integer(0);
}

bool is_empty(Connection& connection) {
  auto ask = connection.prepare("SELECT count(*) FROM sqlite_schema");
  ask.step();
  return ask.integer(0) == 0;
}

/// The version of the store; 0 for an empty file.
std::int64_t version_of(Connection& connection) {
  const auto version = pragma(connection, "user_version");
  const auto owner = pragma(connection, "application_id");
  const auto known = std::ssize(migration_texts());
  if (owner == application && version > known) {
    refuse(ErrorKind::conflict,
           "{}: a newer pitwright made this store (version {}; this program knows {}); use that "
           "pitwright, or name another store with --database",
           connection.path(), version, known);
  }
  if (owner == application && version > 0) return version;
  if (version == 0 && owner == 0 && is_empty(connection)) return 0;
  refuse(ErrorKind::unavailable,
         "{}: this database is not a pitwright store; name another one with --database",
         connection.path());
}

}  // namespace

void migrate(Connection& connection) {
  const auto texts = migration_texts();
  while (version_of(connection) < std::ssize(texts)) {
    Transaction step(connection);
    const auto version = version_of(connection);  // another process may have been faster
    if (version == std::ssize(texts)) return;
    connection.run(std::string(texts[static_cast<std::size_t>(version)]));
    connection.run(fmt::format("PRAGMA application_id = {}", application));
    connection.run(fmt::format("PRAGMA user_version = {}", version + 1));
    step.commit();
  }
}

}  // namespace pitwright::db
