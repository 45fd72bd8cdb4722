#include "picture/lay_picture.h"

#include <map>
#include <set>

#include <gtest/gtest.h>

#include "base/expects.h"
#include "picture/test_lays.h"
#include "picture/test_svg.h"
#include "report/degrees.h"

namespace pitwright::picture {
namespace {

constexpr std::size_t largest_file = 200'000;

/// The color of each band, by the limit it starts at, of all maps whose id begins so.
std::map<std::string, std::set<std::string>> colors_of(const test::Document& document,
                                                       const std::string& id) {
  std::map<std::string, std::set<std::string>> colors;
  bool within = false;
  for (const auto& element : document.elements) {
    if (element.name == "g" && !element.get("id").empty()) {
      within = element.get("id").starts_with(id);
    }
    if (within && !element.get("data-from").empty()) {
      colors[element.get("data-from")].insert(element.get("fill"));
    }
  }
  return colors;
}

TEST(LayPicture, EverySampleIsSoundOnBothPages) {
  for (const auto& [name, lay] : test::all_sample_lays()) {
    for (const auto page : {Page::wide, Page::narrow}) {
      const auto drawn = draw_lay(lay, page);
      test::expect_sound(drawn, name + (page == Page::wide ? " wide" : " narrow"));
      EXPECT_LT(drawn.svg.size(), largest_file) << name;
      EXPECT_EQ(drawn.width, sizes_of(page).width);
    }
  }
}

TEST(LayPicture, EverySampleIsSoundInAColumnWithoutItsHead) {
  for (const auto& [name, lay] : test::all_sample_lays()) {
    const auto drawn = draw_lay(lay, Page::column, "column", Head::left_out);
    test::expect_sound(drawn, name, smallest_in_column);
    EXPECT_LT(drawn.height, draw_lay(lay, Page::column).height) << name;
    EXPECT_FALSE(test::has_text(test::parsed(drawn.svg), lay.title)) << name;
  }
}

TEST(LayPicture, PrintsEveryMeasuredNumber) {
  for (const auto& [name, lay] : test::all_sample_lays()) {
    const auto document = test::parsed(draw_lay(lay, Page::wide).svg);
    for (const auto* sheets : {&lay.settings, &lay.differences}) {
      for (const auto& sheet : *sheets) {
        for (const auto& map : sheet.grates) {
          for (const auto& spot : map.spots) {
            const double degrees = TemperatureDelta::from_kelvins(spot.value_k).in(lay.unit);
            EXPECT_TRUE(test::has_text(document, report::number_text(degrees, 0, true)))
                << name << " " << spot.name;
          }
        }
      }
    }
  }
}

TEST(LayPicture, SettingsShareOneScaleAndDifferencesAnother) {
  const auto sample = test::three_positions();
  const auto document = test::parsed(draw_lay(sample.lay, Page::wide).svg);
  for (const std::string kind : {"lay-setting-", "lay-change-"}) {
    const auto colors = colors_of(document, kind);
    EXPECT_GT(colors.size(), 4U);
    for (const auto& [limit, some] : colors) {
      EXPECT_EQ(some.size(), 1U) << kind << " band from " << limit << " has several colors";
    }
  }
  EXPECT_NE(setting_scale(sample.lay), difference_scale(sample.lay));
}

TEST(LayPicture, AnEvenPitStaysPale) {
  const auto sample = test::even_pit();
  const auto scale = setting_scale(sample.lay);
  EXPECT_GE(scale.top(), 10.0);  // what matters, not the spread of nothing
}

TEST(LayPicture, HatchesWhatIsNotKnownAndOnlyThat) {
  auto lay = test::two_shelves().lay;
  lay.differences.clear();
  EXPECT_NE(draw_lay(lay, Page::wide).svg.find("data-unknown"), std::string::npos);
  for (auto& sheet : lay.settings) {
    for (auto& map : sheet.grates) map.sd_k.assign(map.sd_k.size(), 1.0);
  }
  EXPECT_EQ(draw_lay(lay, Page::wide).svg.find("data-unknown"), std::string::npos);
}

TEST(LayPicture, KeepsNamesThatLookLikeMarkup) {
  const auto document = test::parsed(draw_lay(test::even_pit().lay, Page::wide).svg);
  ASSERT_EQ(document.error, "");
  EXPECT_TRUE(test::has_text(document, "fan <on> & \"off\""));
  bool found = false;
  for (const auto& element : document.elements) {
    found = found || element.get("data-spot") == "a<b>&\"c\"";
  }
  EXPECT_TRUE(found);
}

TEST(LayPicture, TellsTheNumbersToThoseWhoCannotSeeIt) {
  const auto document = test::parsed(draw_lay(test::two_shelves().lay, Page::narrow).svg);
  const auto told = test::all_of(document, "desc").front().text;
  EXPECT_NE(told.find("L1 runs +8°F"), std::string::npos) << told;
}

TEST(LayPicture, PutsTheDoorBelowAndLeftOnTheLeft) {
  const auto document = test::parsed(draw_lay(test::one_barrel().lay, Page::wide).svg);
  std::map<std::string, std::pair<double, double>> dots;
  std::string spot;
  for (const auto& element : document.elements) {
    if (element.name == "g") spot = element.get("data-spot");
    if (element.name == "circle" && !spot.empty()) {
      dots[spot] = {element.number("cx"), element.number("cy")};
    }
  }
  EXPECT_LT(dots["M1"].first, dots["F1"].first);    // x = 0.6 m is left of 1.0 m
  EXPECT_GT(dots["M1"].second, dots["M2"].second);  // y = 0.13 m is nearer the door
}

TEST(LayPicture, RefusesSheetsOfDifferentGrates) {
  auto lay = test::two_shelves().lay;
  lay.settings[1].grates.pop_back();
  EXPECT_THROW(draw_lay(lay, Page::wide), ContractError);
}

}  // namespace
}  // namespace pitwright::picture
