#include <cmath>
#include <string>
#include <vector>

#include <benchmark/benchmark.h>

#include "burns/assemble.h"

namespace pitwright::burns {
namespace {

constexpr std::int64_t noon_ms = 1777723200'000;

/// Two loggers over 24 h at 1 Hz with half of the channels each, as the reader hands them over.
std::vector<logs::Log> day_of_logs(int channels) {
  std::vector<logs::Log> logs(2);
  for (std::size_t l = 0; l < 2; ++l) {
    std::vector<std::int64_t> ms;
    for (std::int64_t s = 0; s < 86400; ++s) ms.push_back(noon_ms + s * 1000);
    const logs::StampColumn shared(std::move(ms));
    logs[l].interval_s = 1.0;
    for (int c = 0; c < channels / 2; ++c) {
      logs::LogChannel channel;
      channel.name = std::string(l == 0 ? "A" : "B") + std::to_string(c);
      channel.unit = logs::ChannelUnit::fahrenheit;
      channel.ms = shared;
      for (int s = 0; s < 86400; ++s) {
        channel.values.push_back(250.0 + 8.0 * std::sin(s / 70.0 + std::sin(s / 3000.0)) + c);
      }
      logs[l].channels.push_back(std::move(channel));
    }
  }
  return logs;
}

void assemble_a_day(benchmark::State& state) {
  const int channels = static_cast<int>(state.range(0));
  std::string text = "unit='F'\nlogs=['a.csv','b.csv']\n[[stint]]\nsetting='A'\n";
  for (int c = 0; c < channels / 2; ++c) {
    for (const char* log : {"A", "B"}) {
      text += "[[probe]]\nchannel='" + std::string(log) + std::to_string(c) + "'\n";
    }
  }
  const auto document = documents::parse_burn(text, "burn.toml");
  for (auto _ : state) {
    state.PauseTiming();
    auto logs = day_of_logs(channels);
    state.ResumeTiming();
    auto made = assemble(*document, logs);
    benchmark::DoNotOptimize(made);
    if (!made) state.SkipWithError(made.error().what.c_str());
    state.PauseTiming();
    made = fail(ErrorKind::bad_input, "freed outside the clock");
    state.ResumeTiming();
  }
}
BENCHMARK(assemble_a_day)->Arg(8)->Arg(64)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace pitwright::burns
