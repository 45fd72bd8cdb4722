#include <cstdlib>

#include <gmock/gmock.h>

#include "db/example_burn_test.h"
#include "db/sha256.h"
#include "db/store.h"
#include "db/temporary_folder_test.h"

namespace pitwright::db {
namespace {

using ::testing::HasSubstr;

class Burns : public ::testing::Test {
 protected:
  Burns() { reopen(); }

  void reopen() {
    store_.reset();
    auto opened = open_store(folder_.file("store.db"));
    ASSERT_TRUE(opened.has_value()) << opened.error().what;
    store_ = *std::move(opened);
  }

  TemporaryFolder folder_;
  std::unique_ptr<Store> store_;
};

ToKeep two_files() {
  ToKeep keep;
  keep.head = burn_named("barrel");
  keep.document = "may/burn.toml";
  keep.files = {{"a pit.toml", std::string("\0\xff\r\n", 4)}, {"may/burn.toml", ""}};
  keep.samples = {{"A1", noon, 100.0}};
  return keep;
}

TEST_F(Burns, KeepWhatWasSaidOfThem) {
  auto burn = burn_named("one");
  burn.scale = Scale::celsius;
  burn.matters = TemperatureDelta::from_kelvins(0.1 + 0.2);
  burn.pit.width_m = 0.9144;
  burn.pit.set_point = degF(275);
  burn.pit.grates = {{"lower", 0.1524}, {"upper", {}}};
  burn.pit.adjustments = {{"baffle", {"0 in", "9 in"}, true}, {"stack", {"open", "shut"}, false}};
  const auto id = store_->light(burn).value();
  reopen();
  const auto line = store_->burn(id).value();
  EXPECT_EQ(line.name, "one");
  EXPECT_EQ(line.title, "Three positions");
  EXPECT_EQ(line.state, BurnState::live);
  EXPECT_EQ(line.scale, Scale::celsius);
  EXPECT_EQ(line.matters, burn.matters);
  EXPECT_EQ(line.timezone, "America/Chicago");
  EXPECT_EQ(line.lit, noon);
  EXPECT_EQ(line.pit.width_m, burn.pit.width_m);
  EXPECT_EQ(line.pit.set_point, burn.pit.set_point);
  EXPECT_EQ(line.pit.depth_m, std::nullopt);
  ASSERT_EQ(line.pit.grates.size(), 2U);
  EXPECT_EQ(line.pit.grates[0].height_m, 0.1524);
  EXPECT_EQ(line.pit.grates[1].height_m, std::nullopt);
  ASSERT_EQ(line.pit.adjustments.size(), 2U);
  EXPECT_TRUE(line.pit.adjustments[0].is_span);
  EXPECT_EQ(line.pit.adjustments[1].positions, (std::vector<std::string>{"open", "shut"}));
}

TEST_F(Burns, AreFoundByNameThenByNumber) {
  const auto one = store_->light(burn_named("2026")).value();
  const auto two = store_->light(burn_named("1")).value();
  EXPECT_EQ(store_->find("2026").value().id, one);
  EXPECT_EQ(store_->find("1").value().id, two);
  EXPECT_EQ(store_->find("2").value().id, two);
  const auto missing = store_->find("2027");
  ASSERT_FALSE(missing.has_value());
  EXPECT_EQ(missing.error().kind, ErrorKind::not_found);
  EXPECT_THAT(missing.error().what, HasSubstr("did you mean '2026'"));
}

TEST_F(Burns, HaveNamesOfTheirOwn) {
  const auto id = store_->light(burn_named("one")).value();
  EXPECT_EQ(store_->light(burn_named("one")).value(), id) << "the very same again is harmless";
  auto other = burn_named("one");
  other.title = "another one";
  EXPECT_EQ(store_->light(other).error().kind, ErrorKind::conflict);
  for (const auto* bad : {"", ".", "..", "a/b", "a\nb"}) {
    EXPECT_EQ(store_->light(burn_named(bad)).error().kind, ErrorKind::bad_input) << bad;
  }
  auto lost = burn_named("two");
  lost.timezone = "America/Chicargo";
  EXPECT_THAT(store_->light(lost).error().what, HasSubstr("America/Chicago"));
}

TEST_F(Burns, EndOnceAndTakeLateSamples) {
  const auto id = store_->light(burn_named("one")).value();
  ASSERT_TRUE(store_->close(id, after_s(100)));
  ASSERT_TRUE(store_->close(id, after_s(200)));
  EXPECT_EQ(store_->burn(id).value().closed, after_s(100));
  EXPECT_EQ(store_->append(id, std::vector<Sample>{{"A", after_s(50), 1.0}}).value().stored, 1);
  EXPECT_EQ(store_->close(BurnId{9}, noon).error().kind, ErrorKind::not_found);
}

TEST_F(Burns, KeptOnesGiveTheirFilesBackByteForByteDocumentFirst) {
  const auto kept = store_->keep(two_files()).value();
  reopen();
  const auto files = store_->files(kept.id).value();
  ASSERT_EQ(files.size(), 2U);
  EXPECT_EQ(files[0].path, "may/burn.toml");
  EXPECT_EQ(files[0].bytes, "");
  EXPECT_EQ(files[1].bytes, std::string("\0\xff\r\n", 4));
  const auto line = store_->burn(kept.id).value();
  EXPECT_EQ(line.files, 2);
  EXPECT_EQ(line.file_bytes, 4);
  EXPECT_EQ(line.samples, 1);
  EXPECT_EQ(line.state, BurnState::kept);
}

TEST_F(Burns, TheSameFilesAreKeptOnce) {
  const auto first = store_->keep(two_files()).value();
  auto again = two_files();
  std::swap(again.files[0], again.files[1]);
  again.head.name = "another name";
  const auto second = store_->keep(again).value();
  EXPECT_FALSE(first.was_there);
  EXPECT_TRUE(second.was_there);
  EXPECT_EQ(second.id, first.id);
  EXPECT_EQ(second.name, "barrel");
  again.files[0].bytes += " ";
  again.head.name = "barrel";
  const auto changed = store_->keep(again).value();
  EXPECT_FALSE(changed.was_there);
  EXPECT_EQ(changed.name, "barrel-2");
  EXPECT_EQ(store_->burns().value().size(), 2U);
}

TEST_F(Burns, NoKeptFileLeadsOutOfItsDirectory) {
  for (const auto* path : {"../x", "/etc/x", "a/../../x", "", "a/", "."}) {
    auto keep = two_files();
    keep.files[0].path = path;
    EXPECT_EQ(store_->keep(keep).error().kind, ErrorKind::bad_input) << path;
  }
  auto without = two_files();
  without.document = "burn.toml";
  EXPECT_EQ(store_->keep(without).error().kind, ErrorKind::bad_input);
}

TEST_F(Burns, KeptOnesTakeNoSamplesAndLiveOnesHaveNoFiles) {
  const auto kept = store_->keep(two_files()).value().id;
  const auto live = store_->light(burn_named("live")).value();
  EXPECT_EQ(store_->append(kept, {}).error().kind, ErrorKind::conflict);
  EXPECT_EQ(store_->close(kept, noon).error().kind, ErrorKind::conflict);
  EXPECT_EQ(store_->files(live).error().kind, ErrorKind::conflict);
}

TEST_F(Burns, AHeadingSaysTheTitleAnewUntilItIsTakenBack) {
  const auto id = store_->light(burn_named("one")).value();
  Heading heading;
  heading.title = "Four positions";
  heading.set_point_c = 135.0;
  ASSERT_TRUE(store_->tell(id, std::vector{record_of("h", heading)}));
  EXPECT_EQ(store_->burn(id).value().title, "Four positions");
  EXPECT_EQ(store_->burn(id).value().pit.set_point, degC(135));
  EXPECT_EQ(store_->burn(id).value().matters, std::nullopt);
  ASSERT_TRUE(store_->tell(id, std::vector{record_of("u", Undo{"h", ""})}));
  EXPECT_EQ(store_->burns().value().at(0).title, "Three positions");
}

TEST_F(Burns, TheLatestReadingOfEveryChannelIsTheLastInTime) {
  const auto id = store_->light(burn_named("one")).value();
  EXPECT_TRUE(store_->latest(id).value().empty());
  ASSERT_TRUE(
      store_->append(id, std::vector<Sample>{{"B", after_s(9), 2.0}, {"A", after_s(5), 1.0}}));
  ASSERT_TRUE(store_->append(id, std::vector<Sample>{{"B", after_s(8), 3.0}}));
  const auto latest = store_->latest(id).value();
  ASSERT_EQ(latest.size(), 2U);
  EXPECT_EQ(latest[0].channel, "A");
  EXPECT_EQ(latest[1].at, after_s(9));
  EXPECT_EQ(latest[1].value, 2.0);
  EXPECT_EQ(store_->latest(BurnId{9}).error().kind, ErrorKind::not_found);
}

TEST_F(Burns, PitsAreRememberedByNameTheLatestInForce) {
  KnownPit known;
  EXPECT_EQ(store_->remember(known).error().kind, ErrorKind::bad_input);
  known.pit.name = "Barrel";
  ASSERT_TRUE(store_->remember(known));
  known.pit.width_m = 0.9;
  known.spots = {{.channel = "A1", .spot = "left front", .x_m = 0.1}, {.channel = "A2"}};
  ASSERT_TRUE(store_->remember(known));
  const auto once = store_->pits().value();
  ASSERT_TRUE(store_->remember(known));
  const auto all = store_->pits().value();
  ASSERT_EQ(all.size(), 1U);
  EXPECT_EQ(all[0].pit.width_m, 0.9);
  EXPECT_EQ(all[0].spots, known.spots);
  EXPECT_EQ(all[0].sequence, once[0].sequence) << "the same again is not another version";
}

TEST(StorePlace, IsWhatWasAskedForThenTheEnvironmentThenTheHomeOfData) {
  ::unsetenv("PITWRIGHT_DATABASE");
  ::setenv("HOME", "/home/jd", 1);
  ::unsetenv("XDG_DATA_HOME");
  EXPECT_EQ(store_place().value(), "/home/jd/.local/share/pitwright/pitwright.db");
  ::setenv("XDG_DATA_HOME", "relative", 1);
  EXPECT_EQ(store_place().value(), "/home/jd/.local/share/pitwright/pitwright.db");
  ::setenv("XDG_DATA_HOME", "/data", 1);
  EXPECT_EQ(store_place().value(), "/data/pitwright/pitwright.db");
  ::setenv("PITWRIGHT_DATABASE", "/x/y.db", 1);
  EXPECT_EQ(store_place().value(), "/x/y.db");
  EXPECT_EQ(store_place("z.db").value(), "z.db");
  ::unsetenv("PITWRIGHT_DATABASE");
  ::unsetenv("XDG_DATA_HOME");
  ::unsetenv("HOME");
  EXPECT_EQ(store_place().error().kind, ErrorKind::not_found);
}

// Source: NIST, "Cryptographic Standards and Guidelines: Examples with Intermediate Values",
// SHA-256 (one block, two blocks); FIPS 180-2 appendix B.3 (a million times 'a'). The empty
// message: from memory. All four compared with GNU coreutils' sha256sum.
TEST(Sha256, GivesThePublishedDigests) {
  const auto digest = [](std::string_view text, int times = 1) {
    Sha256 sum;
    for (int i = 0; i < times; ++i) sum.add(text);
    return sum.hexadecimal();
  };
  EXPECT_EQ(digest("abc"), "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad");
  EXPECT_EQ(digest("abcdbcdecdefdefgefghfghighijhijkijkljklmklmnlmnomnopnopq"),
            "248d6a61d20638b8e5c026930c3e6039a33ce45964ff2167f6ecedd419db06c1");
  EXPECT_EQ(digest("a", 1000000),
            "cdc76e5c9914fb9281a1c7e284d73e67f1809a48a497200e046d39ccc7112cd0");
  EXPECT_EQ(digest(""), "e3b0c44298fc1c149afbf4c8996fb92427ae41e4649b934ca495991b7852b855");
}

}  // namespace
}  // namespace pitwright::db
