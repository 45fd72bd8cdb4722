// Prints how fast a plain wide table is read, beside `wc -l` as the floor and pandas as the peer:
//   cmake --preset release && ninja -C build/release reading && build/release/bench/reading/reading

#include <algorithm>
#include <chrono>
#include <cmath>
#include <cstdio>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <functional>
#include <limits>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <sys/resource.h>
#include <unistd.h>

#include "logs/log.h"

namespace {

using pitwright::logs::read_log;

constexpr int rows = 24 * 3600;
constexpr int runs = 7;

/// 24 h at 1 Hz of slow swings in tenths of a degree, as a logger would write them.
void write_table(const std::filesystem::path& path, int channels) {
  std::ofstream file(path, std::ios::binary);
  std::string line = "time";
  for (int c = 0; c < channels; ++c) line += fmt::format(",P{} (°F)", c + 1);
  file << line << '\n';
  for (int i = 0; i < rows; ++i) {
    line = fmt::format("2026-05-{:02}T{:02}:{:02}:{:02}", 2 + i / 86400, i / 3600 % 24, i / 60 % 60,
                       i % 60);
    for (int c = 0; c < channels; ++c) {
      line += fmt::format(",{:.1f}", 250.0 + c + 9.0 * std::sin(0.01 * i + c));
    }
    file << line << '\n';
  }
}

/// The best of several runs, in [s].
double best_of(const std::function<void()>& work) {
  double best = std::numeric_limits<double>::infinity();
  for (int i = 0; i < runs; ++i) {
    const auto start = std::chrono::steady_clock::now();
    work();
    const std::chrono::duration<double> took = std::chrono::steady_clock::now() - start;
    best = std::min(best, took.count());
  }
  return best;
}

double peak_mb() {
  rusage usage{};
  getrusage(RUSAGE_SELF, &usage);
  return static_cast<double>(usage.ru_maxrss) / 1024.0;
}

/// Seconds that pandas takes, timed inside Python so that its start does not count; 0: not there.
double pandas_seconds(const std::filesystem::path& path, bool dates) {
  const auto command = fmt::format(
      "/usr/bin/python3 -c \"\nimport pandas, time\nbest = 1e9\nfor i in range(3):\n    t = "
      "time.perf_counter()\n    pandas.read_csv('{}'{})\n    best = min(best, time.perf_counter() "
      "- "
      "t)\nprint(best)\" 2>/dev/null",
      path.string(), dates ? ", parse_dates=['time'], infer_datetime_format=True" : "");
  FILE* pipe = ::popen(command.c_str(), "r");
  if (pipe == nullptr) return 0.0;
  double seconds = 0.0;
  if (std::fscanf(pipe, "%lf", &seconds) != 1) seconds = 0.0;
  ::pclose(pipe);
  return seconds;
}

void print_rate(const char* what, double mb, double seconds) {
  if (seconds <= 0.0) {
    fmt::print("  {:<34} not there\n", what);
  } else {
    fmt::print("  {:<34} {:8.0f} MB/s  ({:.4f} s)\n", what, mb / seconds, seconds);
  }
}

int measure(const std::filesystem::path& path, int channels) {
  write_table(path, channels);
  const double mb = static_cast<double>(std::filesystem::file_size(path)) / 1e6;
  fmt::print("24 h x 1 Hz x {} channels, {:.1f} MB, best of {} runs:\n", channels, mb, runs);
  std::size_t readings = 0;
  std::int64_t trouble = 0;
  const double ours = best_of([&] {
    const auto log = read_log(path, {});
    if (!log) {
      fmt::print(stderr, "{}\n", log.error().what);
      std::exit(1);
    }
    readings = log->channels.size() * log->channels.front().values.size();
    trouble = log->skipped_total;
  });
  if (readings != std::size_t{rows} * static_cast<std::size_t>(channels) || trouble != 0) {
    fmt::print(stderr, "the table was not read whole: {} readings\n", readings);
    return 1;
  }
  print_rate("read_log", mb, ours);
  fmt::print("  {:<34} {:8.0f} MB (columns alone: {:.0f} MB)\n", "peak memory of this program",
             peak_mb(), static_cast<double>(readings + rows) * 8.0 / 1048576.0);
  const auto wc = fmt::format("wc -l '{}' > /dev/null", path.string());
  print_rate("wc -l (process start included)", mb, best_of([&] {
               if (std::system(wc.c_str()) != 0) std::exit(1);
             }));
  print_rate("pandas read_csv, stamps as text", mb, pandas_seconds(path, false));
  print_rate("pandas read_csv, stamps as times", mb, pandas_seconds(path, true));
  return 0;
}

}  // namespace

int main() {
  const auto path =
      std::filesystem::temp_directory_path() / fmt::format("pitwright_reading_{}.csv", ::getpid());
  int status = 0;
  for (const int channels : {8, 64}) status = std::max(status, measure(path, channels));
  std::filesystem::remove(path);
  return status;
}
