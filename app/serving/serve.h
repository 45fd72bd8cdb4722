#pragma once

#include <cstdint>
#include <filesystem>
#include <functional>
#include <optional>
#include <string>
#include <vector>

#include "base/result.h"

namespace pitwright::serving {

struct ServeOptions {
  std::string database;  ///< empty: the usual place
  std::string host = "127.0.0.1";
  std::uint16_t port = 7707;
  std::vector<std::string> names;  ///< further names by which the server may be asked for
  std::optional<std::filesystem::path> people;  ///< needed beyond this machine
  bool behind_tls = false;  ///< something in front speaks TLS: cookies are marked secure
};

/// Serves the web app and the API until `stop` is asked for: the function handed to `started`,
/// which may be called from any thread. Fails: bad_input where the server would be open to others
/// without people; as the store, the people file and the server do.
Result<void> serve(
    const ServeOptions& options,
    const std::function<void(std::uint16_t port, std::function<void()> stop)>& started);

}  // namespace pitwright::serving
