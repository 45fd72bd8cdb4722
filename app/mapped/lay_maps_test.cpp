#include "mapped/lay_maps.h"

#include <limits>

#include <gtest/gtest.h>

#include "mapped/lay_text.h"
#include "mapped/lay_words.h"
#include "mapped/on_grate.h"
#include "report/text_width.h"

namespace pitwright::mapped {
namespace {

/// What a call would hand over: `settings` settings, six spots on two grates, runs that rise to the
/// right by 2 K a decimeter, level 120 degC.
struct Sample {
  Burn burn;
  call::Report report;
  lay::Lay lay;

  explicit Sample(int settings, double slope = 20.0) {
    burn.title = "Test <pit>";
    burn.pit.width_m = 0.6;
    burn.pit.depth_m = 0.4;
    burn.pit.set_point = degC(120);
    burn.pit.grates = {{"low", 0.2}, {"high", 0.5}};
    auto& together = report.together;
    const auto n = static_cast<std::size_t>(settings);
    for (int s = 0; s < settings; ++s) {
      report.settings.push_back(std::string(1, static_cast<char>('A' + s)));
      together.level_c.push_back(120.0);
      together.outside_c.push_back(std::numeric_limits<double>::quiet_NaN());
    }
    together.settings = report.settings;
    together.level_covariance_k2.assign(n * n, 0.04);
    for (const auto* grate : {"low", "high"})
      for (const double x : {0.1, 0.3, 0.5}) {
        call::SpotTogether spot;
        spot.spot = std::string(grate) + " " + std::to_string(static_cast<int>(100 * x));
        spot.channel = spot.spot;
        spot.grate = grate;
        spot.x_m = x;
        spot.y_m = grate == std::string("low") ? 0.1 : 0.3;
        spot.z_m = grate == std::string("low") ? 0.2 : 0.5;
        spot.in_level = true;
        spot.probe_sd_k = 0.2;
        spot.run_k.assign(n, slope * (x - 0.3));
        spot.covariance_k2.assign(n * n, 0.0);
        for (std::size_t s = 0; s < n; ++s) spot.covariance_k2[s * n + s] = 0.05;
        spot.counted.assign(n, {100, 120.0 + spot.run_k[0], 0.5, 119.0, 121.0});
        together.spots.push_back(spot);
      }
    lay::LayOptions options;
    options.nodes_x = 8;
    options.nodes_y = 6;
    auto made = lay::make_lay(burn.pit, together, options);
    if (!made) throw std::runtime_error(made.error().what);
    lay = *std::move(made);
  }

  LayView view(const LayWishes& wishes = {}) const {
    auto made = view_of({report, burn, Scale::celsius}, lay, wishes);
    if (!made) throw std::runtime_error(made.error().what);
    return *made;
  }
};

TEST(PictureOf, ShowsAllSettingsAndTheirDifferencesUpToFour) {
  const std::size_t differences[] = {0, 1, 3, 3, 3};
  for (int n = 1; n <= 5; ++n) {
    const Sample sample(n);
    const auto picture = picture_of(sample.view());
    EXPECT_EQ(picture.settings.size(), static_cast<std::size_t>(std::min(n, 4)));
    EXPECT_EQ(picture.differences.size(), differences[n - 1]) << n;
  }
}

TEST(PictureOf, PutsTheUpperGrateFirstAndEverySpotOnItsGrate) {
  const Sample sample(2);
  const auto picture = picture_of(sample.view());
  const auto& grates = picture.settings[0].grates;
  ASSERT_EQ(grates.size(), 2U);
  EXPECT_EQ(grates[0].grate, "high");
  for (const auto& map : grates) {
    ASSERT_EQ(map.spots.size(), 3U);
    for (const auto& spot : map.spots) {
      EXPECT_TRUE(spot.name.starts_with(map.grate));
      EXPECT_NEAR(spot.value_k, 20.0 * (spot.x_m - 0.3), 1e-9);
    }
  }
}

TEST(PictureOf, ADifferenceOfEqualSettingsIsNothing) {
  const Sample sample(2);
  const auto picture = picture_of(sample.view());
  for (const auto& map : picture.differences[0].grates)
    for (const auto& spot : map.spots) EXPECT_NEAR(spot.value_k, 0.0, 1e-9);
}

TEST(LayText, KeepsToEightyColumnsAndCleansNames) {
  const Sample sample(3);
  LayWishes wishes;
  wishes.places = {{0.3, 0.2, "low"}};
  wishes.wanted_c = 130.0;
  const auto text = lay_text(sample.view(wishes));
  std::size_t start = 0;
  while (start < text.size()) {
    const auto end = text.find('\n', start);
    EXPECT_LE(report::display_width(text.substr(start, end - start)), lay_page_width);
    start = end + 1;
  }
  EXPECT_NE(text.find("What to dial"), std::string::npos);
}

TEST(LaySentence, SaysWhichSideRunsHot) {
  const Sample right_hot(1, 40.0), left_hot(1, -40.0), even(1, 0.5);
  EXPECT_NE(lay_sentence(right_hot.view()).find("At A the right"), std::string::npos);
  EXPECT_NE(lay_sentence(left_hot.view()).find("At A the left"), std::string::npos);
  EXPECT_NE(lay_sentence(even.view()).find("even"), std::string::npos);
}

TEST(ViewOf, RefusesPlacesThatAreNotOnTheMap) {
  const Sample sample(1);
  const report::CallView call{sample.report, sample.burn, Scale::celsius};
  for (const auto& [spot, said] :
       {std::pair{LayWishes::Spot{0.3, 0.2, "attic"}, "no grate 'attic'"},
        {LayWishes::Spot{0.3, 0.2, ""}, "needs a grate"},
        {LayWishes::Spot{0.9, 0.2, "low"}, "outside the low grate"}}) {
    LayWishes wishes;
    wishes.places = {spot};
    const auto view = view_of(call, sample.lay, wishes);
    ASSERT_FALSE(view);
    EXPECT_NE(view.error().what.find(said), std::string::npos) << view.error().what;
  }
}

TEST(SpotsOn, GoByNameThenByHeight) {
  Sample sample(1);
  for (auto& spot : sample.lay.spots) spot.grate.clear();
  const auto& grates = sample.lay.settings[0].grates;
  for (std::size_t k = 0; k < grates.size(); ++k)
    for (const auto* spot : spots_on(sample.lay, k))
      EXPECT_TRUE(spot->spot.starts_with(grates[k].grate));
}

}  // namespace
}  // namespace pitwright::mapped
