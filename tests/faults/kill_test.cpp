#include <cstdlib>
#include <string>

#include <fcntl.h>
#include <gmock/gmock.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include "db/store.h"
#include "db/temporary_folder_test.h"
#include "numeric/random.h"

// kill -9 while a child process takes samples: every batch it acknowledged is there afterwards, and
// no batch is there in part. PITWRIGHT_KILLS says how often (3 unless told).

namespace pitwright::db {
namespace {

constexpr int channels = 8;
constexpr Stamp noon =
    std::chrono::sys_days(std::chrono::year{2026} / 5 / 2) + std::chrono::hours(12);

/// Batch n: one to thirty moments of every channel, by a rule that both sides know.
int size_of(int batch) {
  return channels * (1 + batch * 7 % 30);
}

std::vector<Sample> batch_of(int batch, std::int64_t first) {
  std::vector<Sample> samples;
  for (int i = 0; i < size_of(batch); ++i) {
    const auto moment = first + i / channels;
    samples.push_back({"T" + std::to_string(i % channels), noon + std::chrono::seconds(moment),
                       static_cast<double>(batch)});
  }
  return samples;
}

/// Appends batch after batch from `batch` on and writes each number to `acknowledge` when append
/// has returned. Never comes back.
[[noreturn]] void ingest(const std::string& path, int batch, std::int64_t first, int acknowledge) {
  const auto store = open_store(path);
  if (!store) ::_exit(2);
  const auto burn = (*store)->find("live");
  if (!burn) ::_exit(3);
  for (;; ++batch) {
    const auto samples = batch_of(batch, first);
    const auto became = (*store)->append(burn->id, samples);
    if (!became) ::_exit(4);
    first += size_of(batch) / channels;
    if (::write(acknowledge, &batch, sizeof batch) != sizeof batch) ::_exit(5);
  }
}

/// Lets a child ingest for a while, kills it, and gives the last batch it acknowledged.
int killed_after(const std::string& path, int batch, std::int64_t first, int batches,
                 int pause_us) {
  int ends[2];
  EXPECT_EQ(::pipe(ends), 0);
  const auto child = ::fork();
  if (child == 0) {
    ::close(ends[0]);
    ingest(path, batch, first, ends[1]);
  }
  ::close(ends[1]);
  int last = batch - 1;
  for (int n = 0; n < batches; ++n) {
    if (::read(ends[0], &last, sizeof last) != sizeof last) break;
  }
  ::usleep(static_cast<useconds_t>(pause_us));
  ::kill(child, SIGKILL);
  int status = 0;
  ::waitpid(child, &status, 0);
  EXPECT_TRUE(WIFSIGNALED(status) && WTERMSIG(status) == SIGKILL)
      << "the child ended by itself, status " << WEXITSTATUS(status);
  for (int more = 0; ::read(ends[0], &more, sizeof more) == sizeof more;) last = more;
  ::close(ends[0]);
  return last;
}

TEST(Kill, TakesNoAcknowledgedBatchAndLeavesNoneInPart) {
  const char* told = std::getenv("PITWRIGHT_KILLS");
  const int kills = told == nullptr ? 3 : std::atoi(told);
  TemporaryFolder folder;
  const auto path = folder.file("s.db");
  {
    const auto store = open_store(path).value();
    ASSERT_TRUE(store->light({.name = "live", .lit = noon}));
  }
  numeric::Random random(11);
  int batch = 0;
  std::int64_t first = 0;
  int unacknowledged = 0;
  for (int kill = 0; kill < kills; ++kill) {
    SCOPED_TRACE(kill);
    const int last = killed_after(path, batch, first, 1 + random.below(12), random.below(3000));
    if (HasFailure()) return;
    const auto store = open_store(path).value();
    const auto all = store->samples(store->find("live").value().id).value();
    std::int64_t there = 0;
    for (const auto& series : all) there += std::ssize(series.at);
    // All acknowledged batches, and perhaps one more that was written but not told.
    std::int64_t expected = first * channels;
    for (; batch <= last; ++batch) expected += size_of(batch);
    if (there == expected + size_of(batch)) {
      expected += size_of(batch++);
      ++unacknowledged;
    }
    ASSERT_EQ(there, expected) << "last acknowledged batch " << last;
    first = expected / channels;
    for (const auto& series : all) {
      ASSERT_EQ(series.at.back(), noon + std::chrono::seconds(first - 1));
    }
  }
  RecordProperty("written_but_not_acknowledged", unacknowledged);
}

}  // namespace
}  // namespace pitwright::db
