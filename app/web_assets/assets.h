#pragma once

#include <span>

#include "http/site.h"

namespace pitwright::web_assets {

/// The files of the web app, as tools/pack_web made them.
std::span<const http::Asset> all();

}  // namespace pitwright::web_assets
