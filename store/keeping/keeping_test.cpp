#include <algorithm>
#include <filesystem>
#include <fstream>
#include <sstream>

#include <gmock/gmock.h>

#include "burns/open_burn.h"
#include "db/temporary_folder_test.h"
#include "keeping/burn_of.h"
#include "keeping/pack.h"
#include "keeping/unpack.h"

namespace pitwright::keeping {
namespace {

namespace fs = std::filesystem;
using ::testing::ElementsAre;
using ::testing::HasSubstr;

std::string bytes_of(const fs::path& path) {
  std::ifstream in(path, std::ios::binary);
  std::ostringstream bytes;
  bytes << in.rdbuf();
  return bytes.str();
}

void write(const fs::path& path, const std::string& bytes) {
  fs::create_directories(path.parent_path());
  std::ofstream(path, std::ios::binary) << bytes;
}

const std::string log_text =
    "Time,T1\r\n2026-05-02T12:00:00,250\n2026-05-02T12:00:10,\n2026-05-02T12:00:20,252.5\r\n\xef";

std::string document_text(const std::string& log = "a.csv", const std::string& pit = "") {
  return (pit.empty() ? "" : "pit = \"" + pit + "\"\n") + "unit = \"F\"\nlogs = [\"" + log +
         "\"]\n[[probe]]\nchannel = \"T1\"\n[[stint]]\nsetting = \"A\"\n";
}

class Keeping : public ::testing::Test {
 protected:
  Keeping() : store_(db::open_store(folder_.file("store.db")).value()) {}

  fs::path path(const char* name) const { return folder_.path() / name; }

  db::Kept keep(const fs::path& burn) {
    const auto packed = pack(burn);
    EXPECT_TRUE(packed.has_value()) << packed.error().what;
    return store_->keep(packed->burn).value();
  }

  db::TemporaryFolder folder_;
  std::unique_ptr<db::Store> store_;
};

TEST_F(Keeping, EveryExampleComesBackByteForByteAndAsTheSameBurn) {
  int count = 0;
  for (const auto& entry : fs::directory_iterator(PITWRIGHT_SOURCE_DIR "/examples")) {
    if (!fs::exists(entry.path() / "burn.toml")) continue;
    SCOPED_TRACE(entry.path().string());
    ++count;
    const auto kept = keep(entry.path());
    const auto there = store_->files(kept.id).value();
    const auto out = folder_.path() / ("out" + std::to_string(count));
    ASSERT_EQ(unpack(there, out).value(), out / "burn.toml");
    int files = 0;
    for (const auto& file : fs::recursive_directory_iterator(out)) {
      ++files;
      EXPECT_EQ(bytes_of(file.path()),
                bytes_of(entry.path() / file.path().lexically_relative(out)));
    }
    EXPECT_EQ(files, std::ssize(there));
    EXPECT_GE(files, 2);

    const auto before = burns::open_burn(entry.path()).value();
    const auto after = burn_of(*store_, kept.id).value();
    EXPECT_EQ(after.burn.title, before.burn.title);
    EXPECT_EQ(after.assumed, before.assumed);
    ASSERT_EQ(after.burn.probes.size(), before.burn.probes.size());
    for (std::size_t i = 0; i < before.burn.probes.size(); ++i) {
      EXPECT_EQ(after.burn.probes[i].readings.seconds, before.burn.probes[i].readings.seconds);
    }
    EXPECT_TRUE(keep(entry.path()).was_there);
  }
  EXPECT_GE(count, 7);
}

TEST_F(Keeping, FilesAboveTheBurnKeepTheirPlace) {
  write(path("all/pits/barrel.toml"), "name = \"Barrel\"\n");
  write(path("all/burns/may/burn.toml"), document_text("logs/a.csv", "../../pits/barrel.toml"));
  write(path("all/burns/may/logs/a.csv"), log_text);
  write(path("all/burns/may/notes.txt"), "not named by the document");
  const auto packed = pack(path("all/burns/may")).value();
  EXPECT_EQ(packed.burn.document, "burns/may/burn.toml");
  EXPECT_EQ(packed.burn.head.name, "may");
  EXPECT_THAT(packed.left_out, ElementsAre("notes.txt"));
  const auto kept = store_->keep(packed.burn).value();
  const auto document = unpack(store_->files(kept.id).value(), path("out")).value();
  EXPECT_EQ(document, path("out/burns/may/burn.toml"));
  EXPECT_EQ(bytes_of(path("out/burns/may/logs/a.csv")), log_text);
  EXPECT_EQ(burns::open_burn(document).value().burn.pit.name, "Barrel");
  EXPECT_EQ(burn_of(*store_, kept.id).value().burn.pit.name, "Barrel");
}

TEST_F(Keeping, TheRollCallGoesAlongAndIsTakenAgain) {
  write(path("b/rollcall.toml"), "unit = \"F\"\n[[probe]]\nname = \"T1\"\nice = [34, 34]\n");
  write(path("b/a.csv"), log_text);
  write(path("b/burn.toml"), "rollcall = \"rollcall.toml\"\n" + document_text());
  const auto kept = keep(path("b"));
  EXPECT_EQ(store_->files(kept.id).value().size(), 3U);
  const auto again = burn_of(*store_, kept.id).value();
  EXPECT_NEAR(correction_k(again.burn.probes.at(0), 120.0), -2.0 / 1.8, 1e-9);
}

TEST_F(Keeping, AnAbsolutePathCannotBeKept) {
  write(path("b/a.csv"), log_text);
  write(path("b/burn.toml"), document_text(path("b/a.csv").string()));
  const auto refused = pack(path("b"));
  ASSERT_FALSE(refused.has_value());
  EXPECT_THAT(refused.error().what, HasSubstr("absolute path"));
}

TEST_F(Keeping, ReadingsForDrawingAreInDegreesCelsiusOnTheWorldsClock) {
  write(path("b/a.csv"), log_text);
  write(path("b/burn.toml"), document_text());
  const auto kept = keep(path("b"));
  const auto line = store_->burn(kept.id).value();
  EXPECT_TRUE(line.on_world_clock);
  EXPECT_EQ(line.lit, db::Stamp(std::chrono::sys_days(std::chrono::year{2026} / 5 / 2) +
                                std::chrono::hours(12)));
  const auto all = store_->samples(kept.id).value();
  ASSERT_EQ(all.size(), 1U);
  EXPECT_EQ(all[0].at.front(), line.lit);
  EXPECT_EQ(all[0].at.back(), line.lit + std::chrono::seconds(20));
  EXPECT_EQ(all[0].values.back(), degF(252.5).celsius());
}

TEST_F(Keeping, ABurnWithAMistakeIsNotKeptAndTheMistakeSaid) {
  write(path("b/a.csv"), log_text);
  write(path("b/burn.toml"), document_text() + "sport = 1\n");
  const auto refused = pack(path("b"));
  ASSERT_FALSE(refused.has_value());
  EXPECT_THAT(refused.error().what, HasSubstr("burn.toml:7:1"));
}

TEST_F(Keeping, NothingIsTakenOutOverWhatIsThere) {
  const std::vector<db::KeptFile> files{{"burn.toml", "x"}};
  write(path("full/y"), "y");
  EXPECT_EQ(unpack(files, path("full")).error().kind, ErrorKind::conflict);
  EXPECT_FALSE(fs::exists(path("full/burn.toml")));
  fs::create_directories(path("empty"));
  EXPECT_TRUE(unpack(files, path("empty/")));
  EXPECT_EQ(bytes_of(path("empty/burn.toml")), "x");
  EXPECT_FALSE(unpack(files, "/proc/nowhere/x").has_value());
  write(path("file"), "y");
  EXPECT_FALSE(unpack(files, path("file")).has_value());
  for (const auto& entry : fs::directory_iterator(folder_.path())) {
    EXPECT_THAT(entry.path().filename().string(), ::testing::Not(HasSubstr("pitwright-")));
  }
}

TEST_F(Keeping, BurnOnACommandLineIsAPathOrANameInTheStore) {
  write(path("b/a.csv"), log_text);
  write(path("b/burn.toml"), document_text());
  keep(path("b"));
  const auto place = folder_.file("store.db");
  EXPECT_EQ(open_burn("store:b", place).value().document, "store:b/burn.toml");
  EXPECT_EQ(open_burn("store:1", place).value().burn.title, "b");
  EXPECT_EQ(open_burn(path("b").string(), "nowhere").value().burn.probes.size(), 1U);
  EXPECT_THAT(open_burn("store:c", place).error().what, HasSubstr("no burn is named 'c'"));
  EXPECT_EQ(open_burn("store:b", folder_.file("none.db")).error().kind, ErrorKind::not_found);
}

}  // namespace
}  // namespace pitwright::keeping
