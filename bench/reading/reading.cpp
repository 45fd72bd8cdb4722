// Prints how fast a plain wide table is read, beside `wc -l` as the floor and pandas as the peer:
//   cmake --preset release && ninja -C build/release reading && build/release/bench/reading/reading

#include <algorithm>
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

/// 24 h at 1 Hz of slow swings in tenths of a degree, as a logger would write them; `quoted`: every
/// cell in quotes, and a probe that is not there.
void write_table(const std::filesystem::path& path, int channels, bool quoted) {
  std::ofstream file(path, std::ios::binary);
  std::string line = "time";
  for (int c = 0; c < channels; ++c) line += fmt::format(",P{} (°F)", c + 1);
  file << line << '\n';
  for (int i = 0; i < rows; ++i) {
    line = fmt::format("2026-05-{:02}T{:02}:{:02}:{:02}", 2 + i / 86400, i / 3600 % 24, i / 60 % 60,
                       i % 60);
    if (quoted) line = '"' + line + '"';
    for (int c = 0; c < channels; ++c) {
      const double value = 250.0 + c + 9.0 * std::sin(0.01 * i + c);
      line += !quoted  ? fmt::format(",{:.1f}", value)
              : c == 3 ? ",\"---\""
                       : fmt::format(",\"{:.1f}\"", value);
    }
    file << line << '\n';
  }
}

/// Processor time of this program and of the programs it has run, user and system, in [s].
double processor_seconds() {
  double sum = 0.0;
  for (const auto who : {RUSAGE_SELF, RUSAGE_CHILDREN}) {
    rusage usage{};
    getrusage(who, &usage);
    for (const auto& part : {usage.ru_utime, usage.ru_stime}) {
      sum += static_cast<double>(part.tv_sec) + 1e-6 * static_cast<double>(part.tv_usec);
    }
  }
  return sum;
}

/// The best of several runs, in [s] of one core: a busy machine does not count.
double best_of(const std::function<void()>& work) {
  double best = std::numeric_limits<double>::infinity();
  for (int i = 0; i < runs; ++i) {
    const double start = processor_seconds();
    work();
    best = std::min(best, processor_seconds() - start);
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
      "time.process_time()\n    pandas.read_csv('{}'{})\n    best = min(best, time.process_time() "
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

int measure(const std::filesystem::path& path, int channels, bool quoted) {
  write_table(path, channels, quoted);
  const double mb = static_cast<double>(std::filesystem::file_size(path)) / 1e6;
  fmt::print("24 h x 1 Hz x {} channels{}, {:.1f} MB, best of {} runs, processor time:\n", channels,
             quoted ? ", every cell quoted, one probe \"---\"" : "", mb, runs);
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
  for (const int channels : {8, 64}) status = std::max(status, measure(path, channels, false));
  status = std::max(status, measure(path, 8, true));
  std::filesystem::remove(path);
  return status;
}
