#pragma once

#include <span>
#include <string>

#include "db/store.h"

namespace pitwright::burn_list {

/// The burns of a store for people, one a line, at most `width` columns.
std::string text_of(std::span<const db::BurnLine> burns, const std::string& store, int width = 100);

/// To docs/reference/burns.schema.json.
std::string json_of(std::span<const db::BurnLine> burns, const std::string& store);

}  // namespace pitwright::burn_list
