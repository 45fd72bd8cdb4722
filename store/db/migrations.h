#pragma once

#include <span>
#include <string_view>

#include "db/sqlite.h"

namespace pitwright::db {

/// The SQL of every version, from 1 up: migrations/001.sql ...
std::span<const std::string_view> migration_texts();

/// Brings a database to this program's version: each step in a transaction of its own, so that a
/// step that fails leaves the version before it. An empty file becomes a store. Does nothing, and
/// takes no lock, where there is nothing to do.
/// Throws Refusal: conflict for a newer version; unavailable for a file that is no store.
void migrate(Connection& connection);

}  // namespace pitwright::db
