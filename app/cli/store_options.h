#pragma once

#include <memory>
#include <string>

#include <CLI/CLI.hpp>

#include "base/result.h"
#include "db/store.h"

namespace pitwright::cli {

/// Which store a command uses.
struct StoreOptions {
  std::string database;

  void declare(CLI::App& cmd);

  /// Where it is. Fails like db::store_place.
  Result<std::string> place() const;

  /// Opens it. Fails like db::open_store.
  Result<std::unique_ptr<db::Store>> open(const db::Opening& opening = {}) const;
};

}  // namespace pitwright::cli
