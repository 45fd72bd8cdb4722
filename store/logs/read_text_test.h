#pragma once

#include <cmath>
#include <filesystem>
#include <fstream>
#include <string>
#include <string_view>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>
#include <unistd.h>

#include "logs/log.h"

namespace pitwright::logs {

/// A file of the given bytes that is gone after the test.
class TempLog {
 public:
  explicit TempLog(std::string_view bytes) {
    static int number = 0;
    path_ = std::filesystem::temp_directory_path() /
            fmt::format("pitwright_log_{}_{}.csv", ::getpid(), ++number);
    std::ofstream(path_, std::ios::binary) << bytes;
  }
  TempLog(const TempLog&) = delete;
  TempLog& operator=(const TempLog&) = delete;
  ~TempLog() {
    std::error_code ignored;
    std::filesystem::remove(path_, ignored);
  }
  const std::filesystem::path& path() const { return path_; }

 private:
  std::filesystem::path path_;
};

inline Result<Log> read_text(std::string_view bytes, const Hints& hints = {}) {
  const TempLog file(bytes);
  return read_log(file.path(), hints);
}

/// The log, or a failed test and an empty log.
inline Log log_of(std::string_view bytes, const Hints& hints = {}) {
  auto log = read_text(bytes, hints);
  if (log) return *log;
  ADD_FAILURE() << log.error().what;
  return {};
}

/// The sentence of the error, or "" where there was none.
inline std::string error_of(std::string_view bytes, const Hints& hints = {}) {
  const auto log = read_text(bytes, hints);
  return log ? "" : log.error().what;
}

inline std::vector<std::string> names_of(const Log& log) {
  std::vector<std::string> names;
  names.reserve(log.channels.size());
  for (const auto& channel : log.channels) names.push_back(channel.name);
  return names;
}

inline std::vector<std::int64_t> stamps_of(const Log& log, std::size_t channel = 0) {
  if (channel >= log.channels.size()) return {};
  return {log.channels[channel].ms.begin(), log.channels[channel].ms.end()};
}

inline std::vector<double> values_of(const Log& log, std::size_t channel) {
  return channel < log.channels.size() ? log.channels[channel].values : std::vector<double>{};
}

inline bool says(const Log& log, std::string_view words) {
  for (const auto& sentence : log.understood) {
    if (sentence.contains(words)) return true;
  }
  return false;
}

/// 2026-05-02T13:05:00Z in [ms]: `date -u -d 2026-05-02T13:05:00 +%s`.
inline constexpr std::int64_t afternoon = 1'777'727'100'000;

}  // namespace pitwright::logs
