#pragma once

#include <string>

#include "wire/server.h"

namespace pitwright::serving {

/// What the server counts, as OpenMetrics 1.0 text.
std::string metrics_text(const wire::ServerCounts& counts, bool store_answers);

}  // namespace pitwright::serving
