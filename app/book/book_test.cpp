#include "book/book.h"

#include <chrono>
#include <filesystem>

#include <gmock/gmock.h>

#include "book/entries.h"
#include "db/store.h"

namespace pitwright::book {
namespace {

using testing::HasSubstr;

const db::Stamp night(std::chrono::hours(490000));

db::Stamp after(double minutes) {
  return night + std::chrono::microseconds(static_cast<std::int64_t>(minutes * 60e6));
}

/// A store in a folder of its own, with a live burn whose chicken warms from 40 to 170 degF.
class LiveBook : public testing::Test {
 protected:
  void SetUp() override {
    folder_ = std::filesystem::temp_directory_path() /
              ("pitwright_book_" +
               std::to_string(std::chrono::steady_clock::now().time_since_epoch().count()));
    std::filesystem::create_directory(folder_);
    auto opened = db::open_store((folder_ / "store.db").string());
    ASSERT_TRUE(opened) << opened.error().what;
    store_ = std::move(*opened);
    db::NewBurn burn;
    burn.name = "night";
    burn.lit = night;
    const auto lit = store_->light(burn);
    ASSERT_TRUE(lit) << lit.error().what;
    id_ = *lit;
    add_samples(0, 130);
    db::Placement placement;
    placement.channel = "leg";
    placement.role = Role::food;
    placement.piece = "bird";
    tell("placed", "", placement);
    db::Food food;
    food.name = "bird";
    food.cut = "chicken";
    food.on = night;
    food.rule = "poultry 165 F, 4 h";
    tell("food", "", food);
  }
  void TearDown() override {
    store_.reset();
    std::error_code ignored;
    std::filesystem::remove_all(folder_, ignored);
  }

  void add_samples(int from, int until) {
    std::vector<db::Sample> samples;
    for (int minute = from; minute <= until; ++minute)
      samples.push_back({"leg", after(minute), (40.0 + minute - 32.0) / 1.8});
    ASSERT_TRUE(store_->append(id_, samples));
  }
  void tell(const std::string& id, const std::string& corrects, decltype(db::Record::what) what) {
    const db::Record record{id, corrects, "AB", after(1), std::move(what), 0};
    const auto told = store_->tell(id_, std::vector{record});
    ASSERT_TRUE(told) << told.error().what;
  }
  /// What the engine gets of the bird; the way through keeping is tested in tests/.
  burns::OpenBurn open() const {
    burns::OpenBurn open;
    open.burn.clock.zero = std::chrono::floor<std::chrono::milliseconds>(night);
    Probe probe;
    probe.channel = "leg";
    probe.role = Role::food;
    probe.piece = "bird";
    for (int minute = 0; minute <= 130; ++minute) {
      probe.readings.seconds.push_back(60.0 * minute);
      probe.readings.values.push_back((40.0 + minute - 32.0) / 1.8);
    }
    open.burn.probes = {probe};
    Piece piece;
    piece.name = "bird";
    piece.cut = "chicken";
    piece.on_s = 0.0;
    piece.rule = "poultry 165 F, 4 h";
    open.burn.pieces = {piece};
    return open;
  }

  std::filesystem::path folder_;
  std::unique_ptr<db::Store> store_;
  db::BurnId id_{};
};

TEST_F(LiveBook, ASignatureSaysWhatCameAfterIt) {
  Writing writing;
  writing.sign = "CD";
  ASSERT_TRUE(write_entries(*store_, id_, {&writing, 1}, {"bird"}, after(131)));
  const auto burn = open();
  auto told = told_of(*store_, id_);
  ASSERT_TRUE(told);
  const auto fresh = make_book(burn, *told, Scale::fahrenheit);
  ASSERT_TRUE(fresh);
  const auto& before = fresh->pieces[0].signatures;
  ASSERT_EQ(before.size(), 1U);
  EXPECT_EQ(before[0].by, "CD");
  EXPECT_FALSE(before[0].later_samples);
  EXPECT_EQ(before[0].later_entries, 0);
  add_samples(131, 140);
  db::Food later;
  later.name = "bird";
  later.cut = "chicken";
  later.on = after(10);
  later.rule = "poultry 165 F, 4 h";
  tell("food again", "food", later);
  told = told_of(*store_, id_);
  ASSERT_TRUE(told);
  const auto changed = make_book(burn, *told, Scale::fahrenheit);
  const auto& after_it = changed->pieces[0].signatures;
  EXPECT_TRUE(after_it[0].later_samples);
  EXPECT_EQ(after_it[0].later_entries, 1);
  const auto text = book_text(*changed);
  EXPECT_THAT(text, HasSubstr("1 record came after it; readings"));
  ASSERT_EQ(changed->changes.size(), 1U);
  EXPECT_EQ(changed->changes[0].of, "on of bird");
  EXPECT_THAT(text, HasSubstr("on of bird was"));
}

TEST_F(LiveBook, TheLastCheckOfAnInstrumentCountsAndACorrectedOneDoesNot) {
  db::Check check;
  check.channel = "leg";
  check.way = "boil";
  check.at = night - std::chrono::days(40);
  check.correction_k = 0.5;
  tell("old", "", check);
  check.way = "ice";
  check.at = night - std::chrono::days(3);
  tell("wrong", "", check);
  check.at = night - std::chrono::days(9);
  check.correction_k = -0.5;
  tell("right", "wrong", check);
  const auto told = told_of(*store_, id_);
  const auto burn = open();
  const auto book = make_book(burn, *told, Scale::fahrenheit);
  ASSERT_TRUE(book);
  ASSERT_EQ(book->instruments.size(), 1U);
  EXPECT_EQ(book->instruments[0].from, "ice");
  EXPECT_EQ(*book->instruments[0].checked,
            std::chrono::year_month_day(
                std::chrono::floor<std::chrono::days>(night - std::chrono::days(9))));
  ASSERT_EQ(book->changes.size(), 1U);
  EXPECT_EQ(book->changes[0].was, "+0.50 K");
  EXPECT_EQ(book->changes[0].now, "-0.50 K");
}

TEST_F(LiveBook, AnEntryCorrectedTwiceAndOneTakenBackTwiceStandAsTheyShould) {
  const auto write = [&](const std::string& action, std::optional<int> corrects,
                         std::optional<int> take_back) {
    Writing writing;
    writing.by = "AB";
    writing.action = action;
    writing.piece = "bird";
    writing.corrects = corrects;
    writing.take_back = take_back;
    writing.why = take_back ? "a slip" : "";
    const auto written = write_entries(*store_, id_, {&writing, 1}, {"bird"}, after(140));
    return written.has_value();
  };
  EXPECT_TRUE(write("first", {}, {}));
  EXPECT_TRUE(write("second", 1, {}));
  EXPECT_TRUE(write("third", 2, {}));
  EXPECT_FALSE(write("fourth", 9, {}));
  EXPECT_FALSE(write("fifth", 1, {}));  // it is replaced already
  EXPECT_FALSE(write("", {}, 2));
  auto told = told_of(*store_, id_);
  auto entries = entries_of(told->history);
  ASSERT_EQ(entries.size(), 3U);
  EXPECT_EQ(entries[0].replaced_by, "2");
  EXPECT_EQ(entries[1].replaced_by, "3");
  EXPECT_TRUE(entries[2].stands());
  ASSERT_EQ(db::standing(told->history).size(), 3U);  // placement, food, one entry
  EXPECT_EQ(db::standing(told->history).back().id, entries[2].record.id);
  EXPECT_TRUE(write("", {}, 3));
  told = told_of(*store_, id_);
  entries = entries_of(told->history);
  EXPECT_TRUE(entries[2].is_taken_back);
  EXPECT_EQ(entries[2].why, "a slip");
  EXPECT_TRUE(entries[1].stands());  // what it had replaced is back
}

TEST_F(LiveBook, EntriesToldTwiceAreOneAndABadOneKeepsTheOthersOut) {
  Writing action, reading;
  action.id = "phone-1";
  action.by = reading.by = "AB (Sam)";
  action.action = "probed in three places";
  action.at = after(120);
  reading.id = "phone-2";
  reading.reading = Temperature::from_celsius(3.0);
  reading.piece = "bird";
  reading.at = after(999);  // a phone whose clock runs ahead
  std::vector<Writing> both{action, reading};
  const auto write = [&](const std::vector<Writing>& all) {
    return write_entries(*store_, id_, all, {"bird"}, after(140));
  };
  const auto entries = [&] { return entries_of(told_of(*store_, id_)->history); };
  both[1].corrects = 7;
  EXPECT_FALSE(write(both));
  EXPECT_TRUE(entries().empty());
  both[1].corrects = {};
  EXPECT_TRUE(write(both));
  EXPECT_TRUE(write(both));
  ASSERT_EQ(entries().size(), 2U);
  EXPECT_EQ(entries()[0].record.written, after(120));
  EXPECT_EQ(entries()[1].record.written, after(140));
  EXPECT_EQ(entries()[0].record.by, "AB (Sam)");
  auto other = action;
  other.action = "something else";
  const auto refused = write({other});
  ASSERT_FALSE(refused);
  EXPECT_EQ(refused.error().kind, ErrorKind::conflict);
  // A correction and its repeat: by then the old entry does not stand any more, and that is fine.
  other.id = "phone-3";
  other.corrects = 1;
  EXPECT_TRUE(write({other}));
  EXPECT_TRUE(write({other}));
  EXPECT_EQ(entries()[0].replaced_by, "3");
  EXPECT_EQ(entries().size(), 3U);
}

TEST_F(LiveBook, WithoutCheckFourDegreesAreTakenAndSaid) {
  const auto burn = open();
  const auto book = make_book(burn, {}, Scale::fahrenheit);
  const auto text = book_text(*book);
  EXPECT_THAT(text, HasSubstr("A probe that nobody checked: ±4° taken."));
  EXPECT_THAT(text, HasSubstr("never"));
  // 165 degF with 4 degF off is two readings at or above 169: 129 and 130 min.
  EXPECT_EQ(book->pieces[0].record.cooked.verdict, safety::Verdict::met);
  EXPECT_DOUBLE_EQ(*book->pieces[0].record.cooked.credited.met_s, 130 * 60.0);
}

}  // namespace
}  // namespace pitwright::book
