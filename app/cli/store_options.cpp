#include "cli/store_options.h"

namespace pitwright::cli {

void StoreOptions::declare(CLI::App& cmd) {
  cmd.add_option("--database", database,
                 "the store's file; else PITWRIGHT_DATABASE, else your data directory");
}

Result<std::string> StoreOptions::place() const {
  return db::store_place(database);
}

Result<std::unique_ptr<db::Store>> StoreOptions::open(const db::Opening& opening) const {
  const auto where = place();
  if (!where) return std::unexpected(where.error());
  return db::open_store(*where, opening);
}

}  // namespace pitwright::cli
