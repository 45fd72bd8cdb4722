#include <cmath>
#include <limits>
#include <map>

#include <gmock/gmock.h>

#include "db/example_burn_test.h"
#include "db/store.h"
#include "db/temporary_folder_test.h"
#include "numeric/random.h"

namespace pitwright::db {
namespace {

using ::testing::HasSubstr;

class Samples : public ::testing::Test {
 protected:
  Samples() {
    auto opened = open_store(folder_.file("store.db"));
    EXPECT_TRUE(opened.has_value()) << opened.error().what;
    store_ = *std::move(opened);
    burn_ = store_->light(burn_named("one")).value();
  }

  Appended append(const std::vector<Sample>& samples) {
    return store_->append(burn_, samples).value();
  }

  TemporaryFolder folder_;
  std::unique_ptr<Store> store_;
  BurnId burn_{};
};

TEST_F(Samples, ComeBackBitForBitInOrderOfTime) {
  const double odd = 0.1 + 0.2;
  append({{"B", after_s(3), odd}, {"A", after_s(2), -40.0}, {"B", after_s(0.000001), 1e-300}});
  const auto all = store_->samples(burn_).value();
  ASSERT_EQ(all.size(), 2U);
  EXPECT_EQ(all[0].channel, "A");
  EXPECT_EQ(all[1].at, (std::vector{after_s(0.000001), after_s(3)}));
  EXPECT_EQ(all[1].values, (std::vector{1e-300, odd}));
}

TEST_F(Samples, AMissingReadingIsKeptAsMissing) {
  const double missing = std::numeric_limits<double>::quiet_NaN();
  append({{"A", after_s(0), missing}, {"A", after_s(1), 5.0}});
  const auto again = append({{"A", after_s(0), missing}, {"A", after_s(1), missing}});
  EXPECT_EQ(again.duplicate, 1);
  EXPECT_EQ(again.differing, 1);
  EXPECT_TRUE(std::isnan(store_->samples(burn_).value().at(0).values.at(0)));
}

TEST_F(Samples, CountWhatWasStoredThereAlreadyDifferingAndLate) {
  EXPECT_EQ(append({{"A", after_s(10), 1.0}, {"A", after_s(20), 2.0}}).stored, 2);
  const auto became = append({{"A", after_s(20), 2.0},  // the same again
                              {"A", after_s(10), 7.0},  // another value: the first one stays
                              {"A", after_s(15), 3.0},  // late
                              {"B", after_s(15), 4.0},  // first of its channel, so not late
                              {"A", after_s(30), 5.0}});
  EXPECT_EQ(became.stored, 3);
  EXPECT_EQ(became.duplicate, 1);
  EXPECT_EQ(became.differing, 1);
  EXPECT_EQ(became.late, 1);
  EXPECT_EQ(store_->samples(burn_, {.channels = {"A"}}).value().at(0).values,
            (std::vector{1.0, 3.0, 2.0, 5.0}));
}

TEST_F(Samples, InAnyOrderWithRepeatsGiveTheUnion) {
  for (std::uint64_t seed = 1; seed <= 10; ++seed) {
    SCOPED_TRACE(seed);
    numeric::Random random(seed);
    const auto burn = store_->light(burn_named("random " + std::to_string(seed))).value();
    std::map<std::pair<std::string, Stamp>, std::pair<double, Sequence>> model;
    std::vector<Sequence> batches{0};
    for (int batch = 0; batch < 30; ++batch) {
      std::vector<Sample> samples;
      Appended expected;
      for (int i = random.below(40); i > 0; --i) {
        const std::string channel(1, static_cast<char>('A' + random.below(4)));
        const auto at = after_s(random.below(100));
        const double value = random.below(10) == 0 ? 1000.0 + random.below(3) : random.below(3);
        samples.push_back({channel, at, value});
        bool is_late = false;
        for (const auto& [key, known] : model) is_late |= key.first == channel && at < key.second;
        const auto [found, is_new] = model.insert({{channel, at}, {value, -1}});
        ++(is_new                         ? expected.stored
           : found->second.first == value ? expected.duplicate
                                          : expected.differing);
        if (is_new && is_late) ++expected.late;
      }
      const auto became = store_->append(burn, samples).value();
      ASSERT_EQ(became.stored, expected.stored);
      ASSERT_EQ(became.duplicate, expected.duplicate);
      ASSERT_EQ(became.differing, expected.differing);
      ASSERT_EQ(became.late, expected.late);
      for (auto& [key, known] : model) {
        if (known.second == -1) known.second = became.sequence;
      }
      if (became.sequence != 0) {
        EXPECT_GT(became.sequence, batches.back());
        batches.push_back(became.sequence);
      }
    }
    for (const auto after : batches) {  // from the beginning, and since every batch
      std::map<std::pair<std::string, Stamp>, double> expected;
      std::map<std::pair<std::string, Stamp>, double> got;
      for (const auto& [key, known] : model) {
        if (known.second > after) expected[key] = known.first;
      }
      const auto since = store_->samples(burn, {.after = after}).value();
      for (const auto& series : since) {
        for (std::size_t i = 0; i < series.at.size(); ++i) {
          got[{series.channel, series.at[i]}] = series.values[i];
        }
      }
      ASSERT_EQ(got, expected) << "after " << after;
    }
    const auto line = store_->burn(burn).value();
    EXPECT_EQ(line.samples, std::ssize(model));
    EXPECT_EQ(line.sequence, batches.back());
  }
}

TEST_F(Samples, ThinToLowestHighestAndMeanOfEveryStretch) {
  std::vector<Sample> samples;
  for (int i = 0; i < 1000; ++i) samples.push_back({"A", after_s(i), std::sin(i * 0.37) * i});
  samples.push_back({"A", after_s(500.5), std::numeric_limits<double>::quiet_NaN()});
  append(samples);
  const auto thin =
      store_->thinned(burn_, {.from = after_s(100), .until = after_s(900)}, 8).value();
  ASSERT_EQ(thin.size(), 1U);
  ASSERT_EQ(thin[0].buckets.size(), 8U);
  for (int b = 0; b < 8; ++b) {  // the slow obvious version
    const auto& bucket = thin[0].buckets[static_cast<std::size_t>(b)];
    double low = 1e9, high = -1e9, sum = 0.0;
    for (int i = 100 + 100 * b; i < 200 + 100 * b; ++i) {
      const double value = std::sin(i * 0.37) * i;
      low = std::min(low, value);
      high = std::max(high, value);
      sum += value;
    }
    EXPECT_EQ(bucket.low, low);
    EXPECT_EQ(bucket.high, high);
    EXPECT_NEAR(bucket.mean, sum / 100.0, 1e-9);  // sums of a hundred numbers below a thousand
    EXPECT_EQ(bucket.samples, 100);
    EXPECT_EQ(bucket.first, after_s(100 + 100 * b));
    EXPECT_EQ(bucket.last, after_s(199 + 100 * b));
  }
  EXPECT_LE(store_->thinned(burn_, {}, 7).value().at(0).buckets.size(), 7U);
  EXPECT_EQ(store_->thinned(burn_, {}, 0).error().kind, ErrorKind::bad_input);
}

TEST_F(Samples, ThatCannotBeAreRefusedWithTheirWholeBatch) {
  const double endless = std::numeric_limits<double>::infinity();
  const auto refused = [&](const Sample& sample) {
    const auto became = store_->append(burn_, std::vector<Sample>{{"A", noon, 1.0}, sample});
    EXPECT_FALSE(became.has_value());
    return became.has_value() ? "" : became.error().what;
  };
  EXPECT_THAT(refused({"T1", noon, endless}), HasSubstr("T1"));
  EXPECT_THAT(refused({"", noon, 1.0}), HasSubstr("channel"));
  EXPECT_THAT(refused({"A", Stamp::max(), 1.0}), HasSubstr("years"));
  EXPECT_TRUE(store_->samples(burn_).value().empty());
  EXPECT_EQ(store_->append(BurnId{99}, {}).error().kind, ErrorKind::not_found);
}

}  // namespace
}  // namespace pitwright::db
