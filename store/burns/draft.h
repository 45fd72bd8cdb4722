#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/result.h"
#include "logs/log.h"

namespace pitwright::burns {

/// What a person says when a burn begins; all of it may be left out.
struct DraftRequest {
  std::string title;
  std::optional<std::string> unit;  ///< "F" or "C"
  std::string timezone;
  std::optional<logs::DateOrder> date;
  std::optional<char> decimal;
  std::string zero;                 ///< "2026-05-02T12:30:00" for logs that count from a start
  std::vector<std::string> stints;  ///< "13:05 A", in order
};

/// Drafts burn.toml: logs with what was told of them, a probe for every usable channel with its
/// role guessed from its name, stints as told or one suggestion, and comments that say what to fill
/// in. `files` are the logs' names beside burn.toml, `logs` what was understood of them.
/// Fails: bad_input where a stint cannot be read or lies outside the logs, or nobody says the unit.
Result<std::string> draft_burn(const DraftRequest& request, std::span<const std::string> files,
                               std::span<const logs::Log> logs);

/// The text as a TOML string, quotes and all.
std::string toml_text(std::string_view text);

}  // namespace pitwright::burns
