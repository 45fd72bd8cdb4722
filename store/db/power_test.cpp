#include <cstring>
#include <filesystem>
#include <fstream>
#include <map>

#include <gmock/gmock.h>
#include <sqlite3.h>

#include "db/example_burn_test.h"
#include "db/store.h"
#include "db/temporary_folder_test.h"
#include "numeric/random.h"

// A loss of power, played: a file system for SQLite that passes everything on to the real one and
// remembers, per file, what was on the disk at the last fsync and every write since. After a cut
// the disk holds the former and any subset of the latter's sectors.

namespace pitwright::db {
namespace {

namespace fs = std::filesystem;

constexpr std::size_t sector = 512;

struct Write {
  std::size_t at;
  std::string bytes;
};

struct Disk {
  std::string synced;
  std::vector<Write> since;
};

std::map<std::string, Disk>& disks() {
  static std::map<std::string, Disk> all;
  return all;
}

void put(std::string& image, std::size_t at, std::string_view bytes) {
  if (image.size() < at + bytes.size()) image.resize(at + bytes.size());
  image.replace(at, bytes.size(), bytes);
}

struct File {
  sqlite3_file base;
  std::string* name;
  sqlite3_file* real;
};

sqlite3_file* real(sqlite3_file* file) {
  return reinterpret_cast<File*>(file)->real;
}

Disk& disk_of(sqlite3_file* file) {
  return disks()[*reinterpret_cast<File*>(file)->name];
}

std::string whole(sqlite3_file* file) {
  sqlite3_int64 size = 0;
  real(file)->pMethods->xFileSize(real(file), &size);
  std::string image(static_cast<std::size_t>(size), '\0');
  real(file)->pMethods->xRead(real(file), image.data(), static_cast<int>(size), 0);
  return image;
}

int write(sqlite3_file* file, const void* bytes, int count, sqlite3_int64 at) {
  disk_of(file).since.push_back(
      {static_cast<std::size_t>(at),
       std::string(static_cast<const char*>(bytes), static_cast<std::size_t>(count))});
  return real(file)->pMethods->xWrite(real(file), bytes, count, at);
}

int sync(sqlite3_file* file, int flags) {
  const int code = real(file)->pMethods->xSync(real(file), flags);
  if (code == SQLITE_OK) disk_of(file) = {whole(file), {}};
  return code;
}

int close(sqlite3_file* file) {
  auto* own = reinterpret_cast<File*>(file);
  const int code = own->real->pMethods->xClose(own->real);
  delete own->name;
  return code;
}

/// The real method with its own file in place of ours.
template <auto method, typename... Args>
int pass(sqlite3_file* file, Args... args) {
  return (real(file)->pMethods->*method)(real(file), args...);
}

void barrier(sqlite3_file* file) {
  real(file)->pMethods->xShmBarrier(real(file));
}

constexpr sqlite3_io_methods methods = {
    3,
    close,
    pass<&sqlite3_io_methods::xRead, void*, int, sqlite3_int64>,
    write,
    pass<&sqlite3_io_methods::xTruncate, sqlite3_int64>,
    sync,
    pass<&sqlite3_io_methods::xFileSize, sqlite3_int64*>,
    pass<&sqlite3_io_methods::xLock, int>,
    pass<&sqlite3_io_methods::xUnlock, int>,
    pass<&sqlite3_io_methods::xCheckReservedLock, int*>,
    pass<&sqlite3_io_methods::xFileControl, int, void*>,
    pass<&sqlite3_io_methods::xSectorSize>,
    pass<&sqlite3_io_methods::xDeviceCharacteristics>,
    pass<&sqlite3_io_methods::xShmMap, int, int, int, void volatile**>,
    pass<&sqlite3_io_methods::xShmLock, int, int, int>,
    barrier,
    pass<&sqlite3_io_methods::xShmUnmap, int>,
    pass<&sqlite3_io_methods::xFetch, sqlite3_int64, int, void**>,
    pass<&sqlite3_io_methods::xUnfetch, sqlite3_int64, void*>};

sqlite3_vfs* below = nullptr;

int open(sqlite3_vfs*, const char* name, sqlite3_file* file, int flags, int* out) {
  auto* own = reinterpret_cast<File*>(file);
  own->real = reinterpret_cast<sqlite3_file*>(own + 1);
  own->name = nullptr;
  own->base.pMethods = nullptr;
  const int code = below->xOpen(below, name, own->real, flags, out);
  if (own->real->pMethods != nullptr) {
    own->name = new std::string(name == nullptr ? "" : name);
    own->base.pMethods = &methods;
  }
  return code;
}

class Power : public ::testing::Test {
 protected:
  Power() {
    below = sqlite3_vfs_find(nullptr);
    ours_ = *below;
    ours_.zName = "power";
    ours_.szOsFile = below->szOsFile + static_cast<int>(sizeof(File));
    ours_.xOpen = open;
    sqlite3_vfs_register(&ours_, 1);
  }
  ~Power() override {
    sqlite3_vfs_register(below, 1);
    sqlite3_vfs_unregister(&ours_);
    disks().clear();
  }

  /// The disk after a cut now, as a store in a folder of its own.
  void cut(const std::string& path, const std::string& copy, numeric::Random& random) const {
    for (const auto* end : {"", "-wal"}) {
      const auto& disk = disks()[path + end];
      auto image = disk.synced;
      for (const auto& write : disk.since) {
        for (std::size_t at = 0; at < write.bytes.size(); at += sector) {
          if (random.below(2) == 0) put(image, write.at + at, write.bytes.substr(at, sector));
        }
      }
      std::ofstream(copy + end, std::ios::binary) << image;
    }
  }

  sqlite3_vfs ours_{};
};

TEST_F(Power, LostAfterAnAcknowledgedBatchTakesNothingOfItAway) {
  TemporaryFolder folder;
  const auto path = folder.file("s.db");
  numeric::Random random(7);
  const auto store = open_store(path).value();
  const auto burn = store->light(burn_named("one")).value();
  std::int64_t told = 0;
  for (int batch = 0; batch < 60; ++batch) {
    std::vector<Sample> samples;
    for (int i = 1 + random.below(400); i > 0; --i) {
      samples.push_back({i % 2 == 0 ? "A" : "B", after_s(static_cast<double>(told++)), 1.0});
    }
    ASSERT_TRUE(store->append(burn, samples));
    if (batch % 4 != 3) continue;
    const auto copy = (folder.path() / ("cut" + std::to_string(batch))).string();
    cut(path, copy, random);
    const auto after = open_store(copy);
    ASSERT_TRUE(after.has_value()) << after.error().what;
    std::int64_t there = 0;
    const auto all = (*after)->samples(burn).value();
    for (const auto& series : all) there += std::ssize(series.at);
    ASSERT_EQ(there, told) << "after batch " << batch;
  }
  EXPECT_GT(fs::file_size(path), 0U);
}

}  // namespace
}  // namespace pitwright::db
