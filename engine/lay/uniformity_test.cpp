#include "lay/uniformity.h"

#include <cmath>

#include <gtest/gtest.h>

namespace pitwright::lay {
namespace {

/// Nine points of a working space of 0.8 x 0.4 x 0.4 m, as IEC 60068-3-5 places them: corners, then
/// the center. Means are those of the center at 107.0 plus `off`; every point swings by +-`swing`.
std::vector<SpotRecord> nine_points(const std::vector<double>& off, double swing,
                                    double uncertainty_k = 0.5) {
  std::vector<SpotRecord> records;
  for (int i = 0; i < 9; ++i) {
    const Place place =
        i == 8 ? Place{0.4, 0.2, 0.2} : Place{0.8 * (i & 1), 0.2 * (i & 2), 0.1 * (i & 4)};
    const double mean = 107.0 + off[static_cast<std::size_t>(i)];
    records.push_back({"p" + std::to_string(i + 1), place, mean, mean - swing, mean + swing,
                       swing / std::sqrt(2.0), uncertainty_k});
  }
  return records;
}

const std::vector<double> offs{-3.0, 1.0, 2.0, -1.0, 4.0, 0.5, -2.0, 2.5, 0.0};

// Source: IEC 60068-3-5:2001/2018, definitions of achieved temperature, fluctuation, variation in
// space and gradient (paraphrased); the figures are worked by hand from `offs`.
TEST(Uniformity, IecFiguresOfNinePointsAreThoseWorkedByHand) {
  const auto made =
      uniformity(nine_points(offs, 1.5),
                 {.set_c = 108.0, .shown_c = 108.5, .outside_c = 20.0, .middle = std::nullopt});
  ASSERT_TRUE(made);
  const auto& iec = made->iec;
  EXPECT_EQ(iec.center, 8);
  EXPECT_NEAR(iec.center_off_m, 0.0, 1e-12);
  EXPECT_DOUBLE_EQ(iec.achieved_c.value, 107.0);
  for (std::size_t i = 0; i < 9; ++i) {
    EXPECT_NEAR(iec.variation_k[i].value, offs[i], 1e-12);
    EXPECT_NEAR(iec.fluctuation_k[i], 1.5, 1e-12);
    EXPECT_NEAR(iec.two_sd_k[i], 2.0 * 1.5 / std::sqrt(2.0), 1e-12);
  }
  EXPECT_NEAR(iec.gradient_k.value, 7.0, 1e-12);  // +4 less -3
  EXPECT_NEAR(iec.indicated_error_k->value, 1.5, 1e-12);
  EXPECT_NEAR(iec.variation_k[4].high - iec.variation_k[4].value, std::hypot(0.5, 0.5), 1e-12);
  EXPECT_LT(iec.gradient_k.low, 7.0);
  EXPECT_GT(iec.gradient_k.high, 7.0);
  EXPECT_FALSE(made->fewer_than_nine);
}

// Source: SAE AMS2750F, furnace classes 1-6: +-3, 6, 8, 10, 14, 28 degC.
TEST(Uniformity, FurnaceClassHoldsEveryReadingAboutTheSetPoint) {
  const UniformityConditions at_107{
      .set_c = 107.0, .shown_c = {}, .outside_c = 20.0, .middle = std::nullopt};
  // Worst: +4 and the swing of 1.5 above it.
  const auto fine = uniformity(nine_points(offs, 1.5), at_107).value();
  EXPECT_NEAR(fine.ams.worst_k.value, 5.5, 1e-12);
  EXPECT_EQ(fine.ams.furnace_class, 2);
  // The range reaches past 6 K, so class 2 is not sure.
  EXPECT_GT(fine.ams.worst_k.high, 6.0);
  EXPECT_EQ(fine.ams.class_sure, 3);
  // A 225 degF pit whose readings reach 14 degC is class 5, beyond 28 none.
  EXPECT_EQ(uniformity(nine_points(offs, 10.0), at_107)->ams.furnace_class, 5);
  EXPECT_FALSE(uniformity(nine_points(offs, 24.5), at_107)->ams.furnace_class);
  EXPECT_EQ(uniformity(nine_points(offs, 24.0), at_107)->ams.furnace_class, 6);
}

// Source: ASTM E145-19: IA 2 %, IB 5 %, IIA 1 %, IIB 2.5 % of the rise over ambient; at 107 degC
// and 20 degC ambient these are 1.7, 4.4, 0.9 and 2.2 degC (0.05 is half a unit in the last digit).
TEST(Uniformity, AstmSharesAt107DegreesComeToTheWorkedLimits) {
  struct Case {
    double off_k;
    const char* type;
  };
  for (const auto& [off_k, type] : {Case{0.87, "IIA"}, Case{1.74, "IA"}, Case{2.175, "IIB"},
                                    Case{4.35, "IB"}, Case{4.45, ""}}) {
    std::vector<SpotRecord> records;
    for (const double sign : {-1.0, 1.0, 0.0})
      records.push_back({"p", {sign, 0.0, 0.0}, 107.0 + sign * (off_k - 1e-9), 0.0, 0.0, 0.0, 0.1});
    for (auto& record : records) record.low_c = record.high_c = record.mean_c;
    const auto made =
        uniformity(records,
                   {.set_c = 107.0, .shown_c = {}, .outside_c = 20.0, .middle = std::nullopt})
            .value();
    EXPECT_EQ(made.astm.type, type) << off_k;
    EXPECT_NEAR(made.astm.percent.value, 100.0 * off_k / 87.0, 1e-6);
    EXPECT_LT(made.astm.percent.low, made.astm.percent.value);
    EXPECT_GT(made.astm.percent.high, made.astm.percent.value);
    EXPECT_TRUE(made.fewer_than_nine);
  }
}

TEST(Uniformity, WithoutOutsideAirTheShareIsWiderAndSaysSo) {
  const UniformityConditions known{
      .set_c = {}, .shown_c = {}, .outside_c = 20.0, .middle = std::nullopt};
  const UniformityConditions unknown{
      .set_c = {}, .shown_c = {}, .outside_c = {}, .middle = std::nullopt};
  const auto a = uniformity(nine_points(offs, 1.0), known).value();
  const auto b = uniformity(nine_points(offs, 1.0), unknown).value();
  EXPECT_FALSE(a.astm.outside_assumed);
  EXPECT_TRUE(b.astm.outside_assumed);
  EXPECT_TRUE(b.ams.set_assumed);
  EXPECT_LT(b.astm.percent.low, a.astm.percent.low);
  EXPECT_GT(b.astm.percent.high, a.astm.percent.high);
}

TEST(Uniformity, RefusesOnePlaceAndAColdChamberInWords) {
  const UniformityConditions conditions{
      .set_c = 107.0, .shown_c = {}, .outside_c = 20.0, .middle = std::nullopt};
  auto one = nine_points(offs, 1.0);
  one.resize(1);
  EXPECT_NE(uniformity(one, conditions).error().what.find("two places"), std::string::npos);
  auto cold = nine_points(offs, 1.0);
  for (auto& record : cold) record.mean_c -= 95.0;
  EXPECT_NE(uniformity(cold, conditions).error().what.find("outside air"), std::string::npos);
}

}  // namespace
}  // namespace pitwright::lay
