#pragma once

#include <filesystem>
#include <string>

#include "base/result.h"
#include "rehearse/rehearse.h"

namespace pitwright::rehearsal {

struct WriteOptions {
  Instant zero{std::chrono::milliseconds{1777741200000}};  ///< 2026-05-02T12:00 in Chicago
  std::string timezone = "America/Chicago";
  Scale scale = Scale::fahrenheit;  ///< the burn's unit
  bool truth = false;               ///< truth.json too
  std::uint64_t seed = 0;           ///< named in truth.json
};

/// Writes a complete burn directory: burn.toml, pit.toml, one CSV a logger and, if asked for,
/// truth.json. Makes the directory; files of these names in it are overwritten, nothing else is
/// touched.
/// Fails: unavailable where a file cannot be written; bad_input for a zone nobody knows.
Result<void> write_burn(const std::filesystem::path& directory, const rehearse::RehearsedBurn& made,
                        const WriteOptions& options = {});

// The parts, as text.
std::string burn_toml(const rehearse::RehearsedBurn& made, const WriteOptions& options);
std::string pit_toml(const Pit& pit, Scale scale);
std::string log_csv(const rehearse::LoggerRecord& record, const WriteOptions& options);
std::string truth_json(const rehearse::RehearsedBurn& made, const WriteOptions& options);

}  // namespace pitwright::rehearsal
