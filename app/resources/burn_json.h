#pragma once

#include <string>

#include "live/worked.h"

namespace pitwright::resources {

/// What a path and a link call a burn: its name where that is fit for a path, else its number.
std::string link_of(const db::BurnLine& line);

/// The BurnLine of docs/reference/api.openapi.json, as a list.
std::string burns_json(const std::vector<db::BurnLine>& lines);

/// The Burn of docs/reference/api.openapi.json. Fails: as the store does.
Result<std::string> burn_json(db::Store& store, const live::Standing& standing, Scale scale);

/// The Pit of docs/reference/api.openapi.json, alone and as a list.
std::string pit_json(const db::KnownPit& pit);
std::string pits_json(const std::vector<db::KnownPit>& pits);

}  // namespace pitwright::resources
