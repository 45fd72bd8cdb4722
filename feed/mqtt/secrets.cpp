#include <filesystem>
#include <fstream>
#include <string>

#include "mqtt/client.h"

namespace pitwright::feed {

Result<std::string> secret_in(const std::filesystem::path& file) {
  std::ifstream in(file);
  std::string line;
  if (!in || !std::getline(in, line)) {
    return fail(ErrorKind::not_found, "{}: no password can be read from it", file.string());
  }
  if (line.ends_with('\r')) line.pop_back();
  return line;
}

bool others_can_read(const std::filesystem::path& file) {
  std::error_code problem;
  const auto rights = std::filesystem::status(file, problem).permissions();
  using std::filesystem::perms;
  return !problem && (rights & (perms::group_read | perms::others_read)) != perms::none;
}

}  // namespace pitwright::feed
