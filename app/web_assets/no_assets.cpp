#include "web_assets/assets.h"

namespace pitwright::web_assets {

std::span<const http::Asset> all() {
  return {};
}

}  // namespace pitwright::web_assets
