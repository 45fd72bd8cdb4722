#include "db/store.h"

#include <chrono>
#include <cstdio>
#include <ctime>
#include <filesystem>
#include <span>
#include <string>
#include <vector>

#include <fmt/core.h>
#include <unistd.h>

// What the store costs: store [FOLDER]. The folder decides the disk; the same is then done in
// memory (/dev/shm), where putting things on the disk costs nothing, so that the difference is the
// price of the promise that an acknowledged batch survives a loss of power.
namespace {

namespace fs = std::filesystem;
using namespace pitwright;
using namespace pitwright::db;

constexpr int channels = 8;
constexpr int million = 1'000'000;
constexpr Stamp noon =
    std::chrono::sys_days(std::chrono::year{2026} / 5 / 2) + std::chrono::hours(12);

class Watch {
 public:
  /// Of the processor, which other programs do not change; waiting for the disk is not in it.
  double busy_s() const {
    return static_cast<double>(std::clock() - busy_) / static_cast<double>(CLOCKS_PER_SEC);
  }

  double seconds() const {
    return std::chrono::duration<double>(std::chrono::steady_clock::now() - start_).count();
  }

 private:
  std::chrono::steady_clock::time_point start_ = std::chrono::steady_clock::now();
  std::clock_t busy_ = std::clock();
};

/// Eight channels once a second, as they arrive.
std::vector<Sample> samples(int count) {
  std::vector<Sample> all;
  for (int i = 0; i < count; ++i) {
    all.push_back({"T" + std::to_string(i % channels), noon + std::chrono::seconds(i / channels),
                   100.0 + i % 977 / 10.0});
  }
  return all;
}

BurnId light(Store& store) {
  NewBurn burn;
  burn.name = "bench";
  burn.lit = noon;
  return store.light(burn).value();
}

void ingest(const fs::path& folder, const std::vector<Sample>& all, std::size_t batch,
            std::size_t count) {
  const auto path = folder / fmt::format("ingest_{}.db", batch);
  const auto store = open_store(path.string()).value();
  const auto burn = light(*store);
  double worst = 0.0;
  const Watch watch;
  std::size_t batches = 0;
  for (std::size_t from = 0; from < count; from += batch, ++batches) {
    const Watch one;
    if (!store->append(burn, std::span(all).subspan(from, std::min(batch, count - from)))) return;
    worst = std::max(worst, one.seconds());
  }
  const double s = watch.seconds();
  const double busy_s = watch.busy_s();
  const double n = static_cast<double>(count);
  fmt::print(
      "  ingest, batches of {:>6}: {:>9.0f} samples/s; a batch {:.2f} ms, worst {:.1f} ms; "
      "processor alone {:.2f} us a sample ({:.0f}/s)\n",
      batch, n / s, 1e3 * s / static_cast<double>(batches), worst * 1e3, busy_s * 1e6 / n,
      n / busy_s);
}

void read_back(const fs::path& folder) {
  const auto path = (folder / "ingest_10000.db").string();
  const Watch opening;
  const auto store = open_store(path).value();
  const auto line = store->find("bench").value();
  const double open_s = opening.seconds();
  const Watch reading;
  const auto all = store->samples(line.id).value();
  const double read_s = reading.seconds(), read_busy_s = reading.busy_s();
  std::size_t count = 0;
  for (const auto& series : all) count += series.at.size();
  const Watch thinning;
  const auto thin = store->thinned(line.id, {}, 1000).value();
  const double thin_s = thinning.busy_s();
  const Watch since;
  const auto tail = store->samples(line.id, {.after = line.sequence - 1}).value();
  const double since_s = since.seconds();
  fmt::print("  open and list a burn of {} samples: {:.1f} ms\n", line.samples, open_s * 1e3);
  const double mb = static_cast<double>(count) * 16e-6;
  fmt::print("  read all: {:.0f} MB/s at 16 bytes a sample; processor alone {:.0f} MB/s\n",
             mb / read_s, mb / read_busy_s);
  fmt::print(
      "  thin to 1000 buckets a channel: {:.0f} ms of processor; what arrived last ({} samples): "
      "{:.1f} ms\n",
      thin_s * 1e3, tail.size() * tail.front().at.size(), since_s * 1e3);
  fmt::print("  on the disk: {:.1f} bytes a sample\n",
             static_cast<double>(fs::file_size(path)) / static_cast<double>(count));
}

void measure(const fs::path& place) {
  const auto folder = place / fmt::format("pitwright_bench_{}", ::getpid());
  fs::create_directories(folder);
  fmt::print("{}\n", place.string());
  const auto all = samples(million);
  ingest(folder, all, 8, 16'000);
  ingest(folder, all, 800, million);
  ingest(folder, all, 10'000, million);
  read_back(folder);
  fs::remove_all(folder);
}

}  // namespace

int main(int argc, char** argv) {
  measure(argc > 1 ? fs::path(argv[1]) : fs::temp_directory_path());
  if (fs::is_directory("/dev/shm")) measure("/dev/shm");
  return 0;
}
