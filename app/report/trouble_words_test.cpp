#include "report/trouble_words.h"

#include <set>
#include <tuple>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "samples/sample_calls.h"

namespace pitwright::report {
namespace {

using call::TroubleCode;
using call::TroubleKind;
using testing::HasSubstr;
using testing::StartsWith;

TEST(TroubleText, HasWordsOfItsOwnForEveryCode) {
  const auto sample = samples::running_burn();
  std::set<TroubleCode> codes;
  std::set<std::string> texts;
  for (const auto& trouble : sample.report.troubles) {
    codes.insert(trouble.code);
    texts.insert(trouble_text(trouble, sample.burn, Scale::fahrenheit));
  }
  EXPECT_EQ(codes.size(), static_cast<std::size_t>(TroubleCode::probe_offset) + 1);
  EXPECT_EQ(texts.size(), sample.report.troubles.size());
}

TEST(TroubleText, SpeaksMilesBesideFahrenheitAndKilometersBesideCelsius) {
  const Burn burn;
  // 20.9 km/h / 1.609344 = 13.0 mph; 9.4 K x 1.8 = 16.9 F degrees.
  const call::Trouble wind{
      TroubleKind::weather, TroubleCode::weather_changed, "wind: B to C", {}, 20.9};
  const call::Trouble outside{
      TroubleKind::weather, TroubleCode::weather_changed, "outside: B to C", {}, -9.4};
  EXPECT_EQ(trouble_reason(wind, burn, Scale::fahrenheit), "the wind rose 13 mph from B to C");
  EXPECT_EQ(trouble_reason(wind, burn, Scale::celsius), "the wind rose 21 km/h from B to C");
  EXPECT_EQ(trouble_reason(outside, burn, Scale::fahrenheit),
            "the outside air fell 17° from B to C");
  EXPECT_EQ(trouble_reason(outside, burn, Scale::celsius), "the outside air fell 9° from B to C");
}

TEST(TroubleText, SaysOfAFrontHowMuchOfItTheOrderBalanced) {
  call::Trouble front{TroubleKind::weather, TroubleCode::weather_balanced, "outside", 6300.0, -9.4};
  EXPECT_EQ(trouble_text(front, Burn{}, Scale::fahrenheit),
            "The outside air fell 17° during the burn; the order of the settings balanced it, so "
            "it muddles nothing.");
  front.rest = 4.7;
  EXPECT_EQ(trouble_text(front, Burn{}, Scale::celsius),
            "The outside air fell 9° during the burn; the order of the settings balanced it in "
            "part: 5° is left between two of them. Two more stints in mirrored order would take "
            "that out.");
}

TEST(TroubleText, NamesTheSideThatASlowRecoverySpoils) {
  Burn burn;
  burn.stints = {{"A", {}, 0, 2400}};
  for (const auto& [spot, x, y] :
       {std::tuple{"L1", 0.2, 0.1}, {"R1", 0.6, 0.1}, {"L2", 0.2, 0.4}}) {
    Probe probe;
    probe.channel = probe.spot = spot;
    probe.x_m = x;
    probe.y_m = y;
    burn.probes.push_back(probe);
  }
  call::Trouble slow{TroubleKind::lid, TroubleCode::lid_one_sided, "L1, L2", 600.0, 3.4, 0};
  EXPECT_THAT(trouble_text(slow, burn, Scale::fahrenheit),
              StartsWith("After the lid stint 1 (A) is spoiled for the left side (L1, L2) only, 6° "
                         "short of where it was"));
  slow.where = "L1";
  EXPECT_THAT(trouble_text(slow, burn, Scale::fahrenheit), HasSubstr("is spoiled for L1 only"));
}

TEST(TroubleText, NamesTheStintByItsNumberAndSetting) {
  const auto sample = samples::running_burn();
  const call::Trouble spoiled{TroubleKind::lid, TroubleCode::stint_spoiled, "Bжж", 3780.0, 0.0, 1};
  EXPECT_THAT(trouble_text(spoiled, sample.burn, Scale::celsius),
              StartsWith("Nothing counts of stint 2 (Bжж). Repeat"));
}

TEST(TroubleText, DoesNotInventAnAmountThatNobodyMeasured) {
  const call::Trouble warming{TroubleKind::soak, TroubleCode::still_warming, "A", {}, 0.0};
  EXPECT_EQ(trouble_reason(warming, Burn{}, Scale::celsius), "the pit was still heating in A");
}

TEST(AsSentence, RaisesTheFirstLetterAndStops) {
  EXPECT_EQ(as_sentence("the lid was open"), "The lid was open.");
  EXPECT_EQ(as_sentence("touching metal?"), "Touching metal?");
  EXPECT_EQ(as_sentence("élan"), "élan.");
  EXPECT_EQ(as_sentence(""), "");
}

}  // namespace
}  // namespace pitwright::report
