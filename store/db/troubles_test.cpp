#include <cmath>
#include <filesystem>
#include <fstream>
#include <functional>
#include <thread>

#include <gmock/gmock.h>
#include <sched.h>
#include <sqlite3.h>
#include <sys/mount.h>
#include <sys/wait.h>
#include <unistd.h>

#include "db/example_burn_test.h"
#include "db/store.h"
#include "db/temporary_folder_test.h"

namespace pitwright::db {
namespace {

namespace fs = std::filesystem;
using ::testing::HasSubstr;

/// A bare connection, for states that the store itself never makes.
class Plain {
 public:
  explicit Plain(const std::string& path) {
    EXPECT_EQ(sqlite3_open(path.c_str(), &handle_), SQLITE_OK);
  }
  ~Plain() { sqlite3_close(handle_); }
  Plain(const Plain&) = delete;
  Plain& operator=(const Plain&) = delete;
  void run(const char* sql) {
    EXPECT_EQ(sqlite3_exec(handle_, sql, nullptr, nullptr, nullptr), SQLITE_OK)
        << sqlite3_errmsg(handle_);
  }

 private:
  sqlite3* handle_ = nullptr;
};

std::vector<Sample> many_samples(int count, int from = 0) {
  std::vector<Sample> samples;
  for (int i = from; i < from + count; ++i) samples.push_back({"A", after_s(i), i / 7.0});
  return samples;
}

std::int64_t samples_in(Store& store) {
  std::int64_t count = 0;
  const auto lines = store.burns().value();
  for (const auto& line : lines) {
    const auto all = store.samples(line.id).value();
    for (const auto& series : all) count += std::ssize(series.at);
  }
  return count;
}

/// What the child of a fork found: empty where all held.
std::string in_a_child(const std::function<std::string()>& body) {
  int ends[2];
  EXPECT_EQ(::pipe(ends), 0);
  const auto child = ::fork();
  if (child == 0) {
    const auto said = body();
    const auto written = ::write(ends[1], said.data(), said.size());
    ::_exit(written == static_cast<ssize_t>(said.size()) ? 0 : 1);
  }
  ::close(ends[1]);
  std::string said;
  char part[512];
  for (ssize_t got = 0; (got = ::read(ends[0], part, sizeof part)) > 0;) {
    said.append(part, static_cast<std::size_t>(got));
  }
  ::close(ends[0]);
  int status = 0;
  ::waitpid(child, &status, 0);
  return WIFEXITED(status) && WEXITSTATUS(status) == 0 ? said : said + " (the child died)";
}

TEST(Migration, BringsAStoreOfVersion1UpAndKeepsAllOfIt) {
  TemporaryFolder folder;
  fs::copy_file(PITWRIGHT_SOURCE_DIR "/store/db/version_1.db", folder.file("old.db"));
  const auto store = open_store(folder.file("old.db"));
  ASSERT_TRUE(store.has_value()) << store.error().what;
  const auto line = (*store)->find("first light").value();
  EXPECT_EQ(line.title, "Stored by version 1");
  EXPECT_EQ(line.matters->kelvins(), 4.0);
  EXPECT_EQ(line.pit.width_m, 0.9);
  const auto samples = (*store)->samples(line.id).value();
  ASSERT_EQ(samples.size(), 2U);
  EXPECT_EQ(samples[0].values.at(49), 120.0 + 49 / 7.0);
  EXPECT_TRUE(std::isnan(samples[1].values.at(7)));
  const auto records = (*store)->records(line.id).value();
  ASSERT_EQ(records.size(), 3U);
  EXPECT_EQ(standing(records).size(), 1U);
  EXPECT_EQ((*store)->files((*store)->find("kept one").value().id).value().at(1).bytes,
            "time,T\n0,100\n");
  KnownPit pit;
  pit.pit.name = "new in version 2";
  EXPECT_TRUE((*store)->remember(pit));
  EXPECT_TRUE((*store)->append(line.id, many_samples(3)));
}

TEST(Migration, RefusesANewerStoreAndLeavesItAlone) {
  TemporaryFolder folder;
  ASSERT_TRUE(open_store(folder.file("s.db")));
  Plain(folder.file("s.db")).run("PRAGMA user_version = 999");
  const auto refused = open_store(folder.file("s.db"));
  ASSERT_FALSE(refused.has_value());
  EXPECT_EQ(refused.error().kind, ErrorKind::conflict);
  EXPECT_THAT(refused.error().what, HasSubstr("newer pitwright"));
  Plain(folder.file("s.db")).run("PRAGMA user_version = 2");
  EXPECT_TRUE(open_store(folder.file("s.db")));
}

TEST(Migration, RefusesADatabaseOfSomeoneElse) {
  TemporaryFolder folder;
  Plain(folder.file("s.db")).run("CREATE TABLE recipes (name TEXT)");
  const auto refused = open_store(folder.file("s.db"));
  ASSERT_FALSE(refused.has_value());
  EXPECT_THAT(refused.error().what, HasSubstr("not a pitwright store"));
  Plain(folder.file("s.db")).run("SELECT name FROM recipes");
}

TEST(Migration, OfTwoThatOpenANewStoreTogetherBothSucceed) {
  TemporaryFolder folder;
  for (int round = 0; round < 10; ++round) {
    const auto path = (folder.path() / std::to_string(round)).string();
    std::string troubles[2];
    const auto open = [&](std::string& trouble) {
      const auto store = open_store(path);
      if (!store) trouble = store.error().what;
    };
    std::thread other(open, std::ref(troubles[0]));
    open(troubles[1]);
    other.join();
    EXPECT_EQ(troubles[0] + troubles[1], "");
  }
}

TEST(Trouble, AStoreLockedByAnotherProcessIsWaitedForThenSaid) {
  TemporaryFolder folder;
  const auto store =
      open_store(folder.file("s.db"), {.patience = std::chrono::milliseconds(50)}).value();
  const auto burn = store->light(burn_named("one")).value();
  Plain other(folder.file("s.db"));
  other.run("BEGIN IMMEDIATE");
  const auto refused = store->append(burn, many_samples(3));
  ASSERT_FALSE(refused.has_value());
  EXPECT_EQ(refused.error().kind, ErrorKind::unavailable);
  EXPECT_THAT(refused.error().what, HasSubstr("another process has been writing"));
  EXPECT_TRUE(store->samples(burn)) << "reading waits for nobody";
  other.run("COMMIT");
  EXPECT_EQ(store->append(burn, many_samples(3)).value().stored, 3);
}

TEST(Trouble, AReaderSeesWholeBatchesOnlyWhileAWriterWrites) {
  TemporaryFolder folder;
  const auto store = open_store(folder.file("s.db")).value();
  const auto burn = store->light(burn_named("one")).value();
  constexpr int batches = 150, size = 20;
  std::thread writer([&] {
    const auto own = open_store(folder.file("s.db")).value();
    for (int b = 0; b < batches; ++b) EXPECT_TRUE(own->append(burn, many_samples(size, b * size)));
  });
  std::int64_t seen = 0, looks = 0;
  while (seen < batches * size && !HasFatalFailure() && !::testing::Test::HasFailure()) {
    const auto all = store->samples(burn).value();
    const auto now = all.empty() ? 0 : std::ssize(all[0].at);
    EXPECT_EQ(now % size, 0);
    EXPECT_GE(now, seen);
    seen = now;
    ++looks;
  }
  writer.join();
  EXPECT_EQ(seen, batches * size);
  EXPECT_GT(looks, 1);
}

TEST(Trouble, ADamagedFileIsSaid) {
  TemporaryFolder folder;
  const auto path = folder.file("s.db");
  std::ofstream(path) << std::string(8192, 'x');
  const auto no_store = open_store(path);
  ASSERT_FALSE(no_store.has_value());
  EXPECT_EQ(no_store.error().kind, ErrorKind::unavailable);
  EXPECT_THAT(no_store.error().what, HasSubstr("damaged"));

  fs::remove(path);
  {
    const auto store = open_store(path).value();
    const auto burn = store->light(burn_named("one")).value();
    ASSERT_TRUE(store->append(burn, many_samples(20000)));
  }
  const auto whole = fs::file_size(path);
  {  // the second half is nonsense
    std::fstream file(path, std::ios::in | std::ios::out | std::ios::binary);
    file.seekp(static_cast<std::streamoff>(whole / 2));
    file << std::string(whole / 2, 'z');
  }
  const auto store = open_store(path);
  if (store) {
    const auto all = (*store)->samples((*store)->find("one").value().id);
    ASSERT_FALSE(all.has_value());
    EXPECT_THAT(all.error().what, HasSubstr("damaged"));
  } else {
    EXPECT_THAT(store.error().what, HasSubstr("damaged"));
  }
  fs::resize_file(path, whole / 3);  // cut short
  const auto cut = open_store(path);
  const auto said = cut ? (*cut)->burns().error().what : cut.error().what;
  EXPECT_THAT(said, HasSubstr("damaged"));
}

TEST(Trouble, ADamagedKeptFileIsNotHandedOut) {
  TemporaryFolder folder;
  const auto store = open_store(folder.file("s.db")).value();
  ToKeep keep;
  keep.head = burn_named("kept");
  keep.document = "burn.toml";
  keep.files = {{"burn.toml", std::string(1000, 'x')}};
  const auto id = store->keep(keep).value().id;
  Plain other(folder.file("s.db"));
  const auto damage = [&](const char* how) {
    other.run(how);
    const auto files = store->files(id);
    ASSERT_FALSE(files.has_value()) << how;
    EXPECT_THAT(files.error().what, HasSubstr("damaged"));
  };
  damage("UPDATE file SET packed = substr(packed, 1, 8)");
  // A thousand times "y" as zlib packs it: only the hash can tell.
  damage("UPDATE file SET packed = x'789cabac1c05a360140c7700004e80d8b8'");
}

TEST(Trouble, AStoreIsNotMadeWhereNoneIsWanted) {
  TemporaryFolder folder;
  const auto missing = open_store(folder.file("s.db"), {.make = false});
  ASSERT_FALSE(missing.has_value());
  EXPECT_EQ(missing.error().kind, ErrorKind::not_found);
  EXPECT_FALSE(fs::exists(folder.file("s.db")));
  EXPECT_TRUE(open_store(folder.file("a/b/s.db"))) << "folders are made";
  EXPECT_EQ(open_store("").error().kind, ErrorKind::bad_input);
  EXPECT_EQ(open_store("postgresql://host/x").error().kind, ErrorKind::bad_input);
  EXPECT_EQ(open_store(folder.path().string()).error().kind, ErrorKind::bad_input);
}

TEST(Trouble, AReadOnlyPlaceIsSaid) {
  TemporaryFolder folder;
  {
    const auto store = open_store(folder.file("s.db")).value();
    ASSERT_TRUE(store->light(burn_named("one")));
  }
  fs::permissions(folder.file("s.db"), fs::perms(0444));
  fs::permissions(folder.path(), fs::perms(0555));
  const auto said = in_a_child([&]() -> std::string {
    if (::geteuid() == 0 && ::seteuid(65534) != 0) return "SKIP";  // root may write anywhere
    const auto there = open_store(folder.file("s.db"));
    const auto new_one = open_store(folder.file("new.db"));
    const auto deep = open_store(folder.file("deep/new.db"));
    if (there || new_one || deep) return "opened";
    return there.error().what + "\n" + new_one.error().what + "\n" + deep.error().what;
  });
  fs::permissions(folder.path(), fs::perms(0755));
  if (said == "SKIP") GTEST_SKIP() << "NOT TESTED: a read-only place; cannot put root's rights off";
  EXPECT_THAT(said, HasSubstr("s.db: the store cannot be written there"));
  EXPECT_THAT(said, HasSubstr("new.db: the store cannot be written there"));
  EXPECT_THAT(said, HasSubstr("deep: the folder for the store cannot be made"));
}

TEST(Trouble, AFullDiskIsSaidAndNothingIsHalfWritten) {
  TemporaryFolder folder;
  const auto said = in_a_child([&]() -> std::string {
    if (::unshare(CLONE_NEWNS) != 0 && ::unshare(CLONE_NEWUSER | CLONE_NEWNS) != 0) return "SKIP";
    ::mount("none", "/", nullptr, MS_REC | MS_PRIVATE, nullptr);
    if (::mount("tmpfs", folder.path().c_str(), "tmpfs", 0, "size=768k") != 0) return "SKIP";
    const auto opened = open_store(folder.file("s.db"));
    if (!opened) return "not opened: " + opened.error().what;
    auto& store = **opened;
    const auto burn = store.light(burn_named("one")).value();
    constexpr int size = 1000;
    int batches = 0;
    for (;; ++batches) {
      const auto became = store.append(burn, many_samples(size, batches * size));
      if (became) continue;
      const auto what = became.error().what;
      if (what.find("disk is full") == what.npos) return "said: " + what;
      break;
    }
    if (samples_in(store) != batches * size) return "half a batch is there";
    const auto again = open_store(folder.file("s.db"));
    if (!again) return "not opened again: " + again.error().what;
    if (samples_in(**again) != batches * size) return "another process sees half a batch";
    if (batches < 3) return "filled too early";
    // Room made: the same call works.
    if (::mount("tmpfs", folder.path().c_str(), "tmpfs", MS_REMOUNT, "size=8m") != 0) return "SKIP";
    const auto became = store.append(burn, many_samples(size, batches * size));
    if (!became || became->stored != size) return "not written although there is room";
    return samples_in(store) == (batches + 1) * size ? "" : "lost after the disk was full";
  });
  if (said == "SKIP")
    GTEST_SKIP() << "NOT TESTED: a full disk; mounting a small tmpfs is not allowed";
  EXPECT_EQ(said, "");
}

}  // namespace
}  // namespace pitwright::db
