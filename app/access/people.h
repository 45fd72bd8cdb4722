#pragma once

#include <filesystem>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.h"

namespace pitwright::access {

/// What somebody may do; each holds what stands before it.
enum class Role {
  look,  ///< read
  tap,   ///< also write down what happens at the pit: taps and readings
  own    ///< everything
};

std::string_view name_of(Role role);

/// Somebody who may come in from another machine. The token itself is nowhere; only its digest.
struct Person {
  std::string name;
  Role role = Role::look;
  std::string digest;  ///< SHA-256 of the token, hexadecimal
};

/// Reads people.toml: `[[person]]` with `name`, `role` and `token_sha256`.
/// Fails: not_found; bad_input with file, line and column; bad_input where others than its owner
/// may read or write the file.
Result<std::vector<Person>> read_people(const std::filesystem::path& path);

/// Adds a person to people.toml, made where there is none, readable by its owner only, and gives
/// the token, which is not kept. Fails: conflict where the name is there already; unavailable.
Result<std::string> invite(const std::filesystem::path& path, const std::string& name, Role role);

}  // namespace pitwright::access
