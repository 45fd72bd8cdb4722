#pragma once

#include <string>
#include <string_view>

#include "base/result.h"
#include "burns/open_burn.h"
#include "db/store.h"

namespace pitwright::keeping {

/// A burn of the store as the engine takes it. A kept burn is read from its files, as its directory
/// was; a live one is put together from its samples and records (see live_burn). Mistakes in a kept
/// burn's document are told at "store:NAME/burn.toml:line:column".
/// Fails: not_found; bad_input like burns::open_burn and live_burn; unavailable.
Result<burns::OpenBurn> burn_of(db::Store& store, db::BurnId burn);

/// What BURN on a command line means: "store:NAME" (or a number) in the store at `database`
/// (empty: see db::store_place), else a directory or its burn.toml.
/// Fails like burns::open_burn, open_store and burn_of.
Result<burns::OpenBurn> open_burn(std::string_view burn, std::string_view database = {});

}  // namespace pitwright::keeping
