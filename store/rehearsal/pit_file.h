#pragma once

#include <cstdint>
#include <filesystem>
#include <string>

#include "base/result.h"
#include "rehearse/scenarios.h"

namespace pitwright::rehearsal {

/// A pit.toml with its [rehearse] table as something that can burn. What the table leaves out has
/// the defaults of engine/rehearse; a pit without the table is a thin steel box under a thermostat,
/// with spots on its grates and settings whose effects are drawn from `seed`. Levels and runs that
/// are asked for are aimed at.
/// Fails: not_found; bad_input with file, line, column and the nearest known name.
/// See docs/reference/rehearse.md for the table.
Result<rehearse::Scenario> read_pit_file(const std::filesystem::path& path, std::uint64_t seed);

/// The pit.toml of a scenario, [rehearse] table included, every gain as it was aimed: reading it
/// gives the same burns.
std::string pit_file_text(const rehearse::Scenario& scenario, Scale scale);

}  // namespace pitwright::rehearsal
