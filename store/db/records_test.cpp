#include <limits>

#include <gmock/gmock.h>

#include "db/example_burn_test.h"
#include "db/store.h"
#include "db/temporary_folder_test.h"

namespace pitwright::db {
namespace {

using ::testing::ElementsAre;
using ::testing::HasSubstr;

std::vector<std::string> ids_of(const std::vector<Record>& records) {
  std::vector<std::string> ids;
  for (const auto& record : records) ids.push_back(record.id);
  return ids;
}

/// One of every kind with every field filled, and one of every kind with as few as can be.
std::vector<Record> of_every_kind() {
  const double odd = 1.0 / 3.0;
  const auto day = std::chrono::year{2026} / 4 / 30;
  return {
      record_of("mark",
                Mark{EventKind::split, noon, after_s(9), "A1", "shoulder", "one \"log\"\n"}),
      record_of("turn", Turn{"A", {{"baffle", "2 in"}, {"stack", "half"}}, noon, after_s(60)}),
      record_of("place", Placement{"A1", Role::food, "left front", "lower", "shoulder", odd, 0.0,
                                   -0.5, -0.1, odd, day, noon, after_s(1e-6)}),
      record_of("food", Food{"shoulder", "pork shoulder", 3.8, false, noon, after_s(1), "r", "jd",
                             "moved it"}),
      record_of("heading", Heading{"Four", 5.0, 135.0}),
      record_of("check", Check{"A1", "ice", noon, 0.3, 0.0, -0.3, 0.1, "stirred"}),
      record_of("book", BookEntry{"reading", noon, "shoulder", 61.5, "C", "thickest part"}),
      record_of("mark2", Mark{EventKind::note, noon, {}, "", "", ""}),
      record_of("turn2", Turn{"B", {}, noon, {}}),
      record_of("place2", Placement{.channel = "A2"}),
      record_of("food2", Food{.name = "x"}),
      record_of("heading2", Heading{}),
      record_of("check2", Check{.at = noon}),
      record_of("book2", BookEntry{.at = noon}),
      record_of("undo", Undo{"mark2", "never was"}),
  };
}

class Records : public ::testing::Test {
 protected:
  Records() : store_(open_store(folder_.file("store.db")).value()) {
    burn_ = store_->light(burn_named("one")).value();
  }

  Result<Told> tell(const std::vector<Record>& records) { return store_->tell(burn_, records); }

  TemporaryFolder folder_;
  std::unique_ptr<Store> store_;
  BurnId burn_{};
};

TEST_F(Records, OfEveryKindComeBackAsTheyWereTold) {
  const auto told = of_every_kind();
  ASSERT_EQ(tell(told).value().stored, std::ssize(told));
  store_ = open_store(folder_.file("store.db")).value();
  const auto back = store_->records(burn_).value();
  ASSERT_EQ(back.size(), told.size());
  for (std::size_t i = 0; i < told.size(); ++i) {
    EXPECT_EQ(back[i].id, told[i].id);
    EXPECT_EQ(back[i].by, "jd");
    EXPECT_EQ(back[i].written, noon);
    EXPECT_TRUE(back[i].what == told[i].what) << told[i].id;
  }
}

TEST_F(Records, ToldTwiceAreStoredOnce) {
  const auto told = of_every_kind();
  ASSERT_TRUE(tell(told));
  const auto again = tell(told).value();
  EXPECT_EQ(again.stored, 0);
  EXPECT_EQ(again.duplicate, std::ssize(told));
  EXPECT_EQ(again.sequence, 0);
  EXPECT_EQ(store_->records(burn_).value().size(), told.size());
}

TEST_F(Records, AreNeverChanged) {
  ASSERT_TRUE(tell({record_of("a", BookEntry{.what = "reading", .at = noon, .value = 60.0})}));
  const auto changed =
      tell({record_of("new", Undo{"a", ""}),
            record_of("a", BookEntry{.what = "reading", .at = noon, .value = 61.0})});
  ASSERT_FALSE(changed.has_value());
  EXPECT_EQ(changed.error().kind, ErrorKind::conflict);
  EXPECT_THAT(changed.error().what, HasSubstr("corrects"));
  const auto all = store_->records(burn_).value();
  ASSERT_EQ(all.size(), 1U) << "nothing of the refused batch is there";
  EXPECT_EQ(std::get<BookEntry>(all[0].what).value, 60.0);
}

TEST_F(Records, ACorrectionStandsInForTheOldValueWhichStays) {
  ASSERT_TRUE(tell({record_of("a", BookEntry{.at = noon, .value = 60.0}),
                    record_of("b", BookEntry{.at = noon, .value = 70.0}),
                    record_of("a2", BookEntry{.at = noon, .value = 61.0}, "a")}));
  const auto all = store_->records(burn_).value();
  EXPECT_THAT(ids_of(all), ElementsAre("a", "b", "a2"));
  EXPECT_THAT(ids_of(standing(all)), ElementsAre("b", "a2"));
}

TEST(Standing, OfAChainOfCorrectionsOnlyTheLastIsInForce) {
  const auto note = [](const std::string& id, const std::string& corrects) {
    Record record;
    record.id = id;
    record.corrects = corrects;
    record.what = Mark{};
    return record;
  };
  const std::vector<Record> chain{note("a", ""), note("a2", "a"), note("a3", "a2")};
  EXPECT_THAT(ids_of(standing(chain)), ElementsAre("a3"));
  auto undone = chain;
  undone.push_back(note("u", ""));
  undone.back().what = Undo{"a3", ""};
  EXPECT_THAT(ids_of(standing(undone)), ElementsAre("a2"));
}

TEST_F(Records, AnUndoTakesBackAndItsOwnUndoBringsBack) {
  const std::vector<Record> told{
      record_of("a", Mark{.at = noon}), record_of("a2", Mark{.at = after_s(1)}, "a"),
      record_of("u", Undo{"a2", "the first was right"}), record_of("uu", Undo{"u", "it was not"})};
  const std::span<const Record> all(told);
  EXPECT_THAT(ids_of(standing(all.first(2))), ElementsAre("a2"));
  EXPECT_THAT(ids_of(standing(all.first(3))), ElementsAre("a"));
  EXPECT_THAT(ids_of(standing(all)), ElementsAre("a2"));
}

TEST_F(Records, MayNotSpeakOfRecordsThatAreNotThere) {
  for (const auto& record :
       {record_of("u", Undo{"nothing", ""}), record_of("c", Mark{.at = noon}, "nothing"),
        record_of("", Mark{.at = noon}), record_of(std::string(65, 'x'), Mark{.at = noon}),
        record_of("n", BookEntry{.at = noon, .value = std::numeric_limits<double>::infinity()})}) {
    const auto refused = tell({record});
    ASSERT_FALSE(refused.has_value()) << record.id;
    EXPECT_EQ(refused.error().kind, ErrorKind::bad_input);
  }
}

TEST_F(Records, SinceANumberAreThoseThatCameAfterIt) {
  const auto first = tell({record_of("a", Mark{.at = noon})}).value();
  const auto samples = store_->append(burn_, std::vector<Sample>{{"A", noon, 1.0}}).value();
  const auto second = tell({record_of("b", Mark{.at = noon}), record_of("c", Mark{.at = noon})});
  EXPECT_LT(first.sequence, samples.sequence);
  EXPECT_LT(samples.sequence, second.value().sequence);
  EXPECT_THAT(ids_of(store_->records(burn_, first.sequence).value()), ElementsAre("b", "c"));
  EXPECT_THAT(ids_of(store_->records(burn_, second.value().sequence).value()), ElementsAre());
  EXPECT_EQ(store_->burn(burn_).value().sequence, second.value().sequence);
  EXPECT_EQ(store_->records(BurnId{9}).error().kind, ErrorKind::not_found);
}

TEST_F(Records, OfOneBurnLeaveTheIdsOfAnotherFree) {
  const auto other = store_->light(burn_named("two")).value();
  ASSERT_TRUE(tell({record_of("a", Mark{.at = noon})}));
  EXPECT_EQ(
      store_->tell(other, std::vector{record_of("a", Turn{"A", {}, noon, {}})}).value().stored, 1);
}

TEST_F(Records, OfAKeptBurnAreChecksAndBookOnly) {
  ToKeep keep;
  keep.head = burn_named("kept");
  keep.document = "burn.toml";
  keep.files = {{"burn.toml", "x"}};
  const auto kept = store_->keep(keep).value().id;
  EXPECT_TRUE(store_->tell(kept, std::vector{record_of("a", BookEntry{.at = noon})}));
  EXPECT_EQ(store_->tell(kept, std::vector{record_of("b", Mark{.at = noon})}).error().kind,
            ErrorKind::conflict);
}

TEST_F(Records, WithBrokenTextAreKeptReadable) {
  ASSERT_TRUE(tell({record_of("a", Mark{.at = noon, .text = "\xff\xfe oak"})}));
  EXPECT_THAT(std::get<Mark>(store_->records(burn_).value().at(0).what).text, HasSubstr(" oak"));
}

}  // namespace
}  // namespace pitwright::db
