#pragma once

#include <span>
#include <string>

#include "base/result.h"
#include "burns/draft.h"
#include "logs/log.h"

namespace pitwright::burns {

/// The [[stint]] tables of a draft, as told by "13:05 A" or one suggestion over the whole log.
/// Fails: bad_input where a stint cannot be read or lies outside the logs.
Result<std::string> draft_stints(const DraftRequest& request, std::span<const logs::Log> logs);

}  // namespace pitwright::burns
