#include "documents/rollcall_document.h"

#include <cmath>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace pitwright::documents {
namespace {

using testing::HasSubstr;
using thermometer::Place;

Result<RollCallDocument> parsed(const std::string& text) {
  return parse_roll_call(text, "rollcall.toml");
}

std::string mistake_in(const std::string& text) {
  const auto document = parsed(text);
  return document ? "no mistake found" : document.error().what;
}

const std::vector<double>& at(const RollCallDocument& document, std::size_t probe, Place place) {
  return document.probes.at(probe).readings[static_cast<std::size_t>(place)];
}

TEST(RollCallDocument, ReadsPlacesProbesAndUnits) {
  const auto document = parsed(R"(title = "Before spring"
unit = "F"
date = 2026-04-30
by = "M."
used_at = "275 F"
accept = "3 F"
[ice]
uncertainty = "0.2 F"
[boil]
altitude = "5280 ft"
[[probe]]
name = "A1"
resolution = "1 F"
ice = [33, "0.5 C", 32.5]
boil = 203
hot = [260, nan, 263]
[[probe]]
name = "A2"
hot = [261, 262, 264]
)");
  ASSERT_TRUE(document) << document.error().what;
  EXPECT_EQ(document->title, "Before spring");
  EXPECT_NEAR(document->conditions.used_at_c, 135.0, 1e-9);
  EXPECT_NEAR(document->conditions.accept_k, 3.0 / 1.8, 1e-9);
  EXPECT_NEAR(at(*document, 0, Place::ice)[0], 1.0 / 1.8, 1e-9);
  EXPECT_NEAR(at(*document, 0, Place::ice)[1], 0.5, 1e-9);
  EXPECT_EQ(at(*document, 0, Place::boil).size(), 1U);
  EXPECT_TRUE(std::isnan(at(*document, 0, Place::hot)[1]));
  EXPECT_NEAR(document->probes[0].resolution_k, 1.0 / 1.8, 1e-9);
  EXPECT_NEAR(document->probes[1].resolution_k, 1.0 / 1.8, 1e-9);  // whole degrees, inferred
  EXPECT_NEAR(document->conditions.ice->standard_k, 0.2 / 1.8 / std::sqrt(3.0), 1e-9);
  // Source: boiling point at 1609.3 m by IAPWS-IF97 and the standard atmosphere, computed apart.
  EXPECT_NEAR(document->conditions.boil->celsius, 94.618, 0.01);
  // Weather of +-2 kPa is +-0.6 K here; the pot itself +-0.3 K as a half width.
  EXPECT_NEAR(document->conditions.boil->standard_k, std::hypot(0.3 / std::sqrt(3.0), 0.65 / 1.96),
              0.02);
}

TEST(RollCallDocument, AStationPressureIsSharperThanAnAltitude) {
  const auto document = parsed(
      "unit = \"C\"\n[boil]\npressure = \"850 hPa\"\n[[probe]]\nname = \"A\"\nboil = [95.2]\n");
  ASSERT_TRUE(document) << document.error().what;
  EXPECT_NEAR(document->conditions.boil->celsius, 95.125, 0.001);  // IAPWS-IF97, computed apart
  EXPECT_LT(document->conditions.boil->standard_k, 0.19);
}

TEST(RollCallDocument, TurnsWhatASensorGivesIntoDegrees) {
  const auto document = parsed(R"(unit = "C"
[boil]
altitude = "0 m"
[[probe]]
name = "couple"
type = "K"
cold_junction = "25 C"
boil = [3.096]
[[probe]]
name = "platinum"
type = "Pt100"
ice = [100.00]
boil = [138.51]
[[probe]]
name = "beta"
type = "NTC"
ohm_at_25 = 10000
beta = 3950
ice = [33620.6]
[[probe]]
name = "curve"
type = "NTC"
ice = [32650]
[[probe.curve]]
at = "0 C"
ohm = 32650.8
[[probe.curve]]
at = "25 C"
ohm = 10000
[[probe.curve]]
at = "70 C"
ohm = 1751.6
)");
  ASSERT_TRUE(document) << document.error().what;
  EXPECT_NEAR(at(*document, 0, Place::boil)[0], 100.0, 0.02);
  EXPECT_NEAR(document->probes[0].resolution_k, 0.024,
              0.001);  // 0.001 mV at 41 uV a kelvin
  EXPECT_NEAR(at(*document, 1, Place::boil)[0], 100.0, 0.02);
  EXPECT_NEAR(at(*document, 2, Place::ice)[0], 0.0, 0.001);
  EXPECT_NEAR(at(*document, 3, Place::ice)[0], 0.0, 0.001);
  EXPECT_EQ(document->sensors[0].kind, "K");
}

TEST(RollCallDocument, NamesMistakesWithTheirPlace) {
  const std::string head = "unit = \"F\"\n";
  EXPECT_THAT(mistake_in(head), HasSubstr("needs 'probe'"));
  EXPECT_THAT(mistake_in("[[probe]]\nname = \"A\"\nice = [33]\n"), HasSubstr("needs 'unit'"));
  EXPECT_THAT(mistake_in(head + "[[probe]]\nname = \"A\"\nicee = [33]\n"),
              HasSubstr("rollcall.toml:4:1: unknown key 'icee' in [[probe]]; did you mean 'ice'?"));
  EXPECT_THAT(mistake_in(head + "[[probe]]\nname = \"A\"\nice = [33, true]\n"),
              HasSubstr("rollcall.toml:4:12: a reading is a temperature"));
  EXPECT_THAT(mistake_in(head + "[[probe]]\nname = \"A\"\nice = [33, \"warm\"]\n"),
              HasSubstr("rollcall.toml:4:12: 'warm' is not a temperature"));
  EXPECT_THAT(mistake_in(head + "[[probe]]\nname = \"A\"\nboil = [203]\n"),
              HasSubstr("rollcall.toml:4:8: the temperature of boiling water depends"));
  EXPECT_THAT(mistake_in(head + "[boil]\n[[probe]]\nname = \"A\"\nboil = [203]\n"),
              HasSubstr("[boil] needs 'altitude'"));
  EXPECT_THAT(mistake_in(head + "[[probe]]\nname = \"A\"\n"), HasSubstr("has no reading"));
  EXPECT_THAT(
      mistake_in(head + "[[probe]]\nname = \"A\"\nice = 33\n[[probe]]\nname = \"A\"\nice = 33\n"),
      HasSubstr("two thermometers are named 'A'"));
  EXPECT_THAT(
      mistake_in(head + "[[probe]]\nname = \"A\"\nhot = [250, 251]\n[[probe]]\nname = \"B\"\n"
                        "hot = [250]\n"),
      HasSubstr("rollcall.toml:7:7: 'hot' of 'B' has 1 readings, that of 'A' 2"));
  EXPECT_THAT(mistake_in(head + "[[probe]]\nname = \"A\"\nice = [3300]\n"),
              HasSubstr("no thermometer in ice, water or a pit shows that"));
  EXPECT_THAT(mistake_in(head + "[[probe]]\nname = \"A\"\ntype = \"K\"\nice = [0.0]\n"),
              HasSubstr("needs 'cold_junction'"));
  EXPECT_THAT(mistake_in(head + "[[probe]]\nname = \"A\"\ntype = \"Pt100\"\nice = [1.0]\n"),
              HasSubstr("rollcall.toml:5:8: 1 ohm is no reading of a Pt100"));
  EXPECT_THAT(mistake_in(head + "[[probe]]\nname = \"A\"\ntype = \"NTC\"\nice = [32000]\n"),
              HasSubstr("an NTC needs its curve"));
  EXPECT_THAT(mistake_in(head + "[boil]\naltitude = \"5280\"\n[[probe]]\nname = \"A\"\nice = 33\n"),
              HasSubstr("'altitude'"));
  EXPECT_THAT(mistake_in(head + "[[probe]]\nname = \"A\"\nice = 33\ncold_junction = \"70 F\"\n"),
              HasSubstr("goes with type"));
  EXPECT_THAT(
      mistake_in(head + "[ice]\nuncertainty = \"1e300 F\"\n[[probe]]\nname = \"A\"\nice = 33\n"),
      HasSubstr("checks nothing"));
  EXPECT_THAT(mistake_in(head + "[[probe]]\nname = \"A\"\nice = 33\nresolution = \"0 F\"\n"),
              HasSubstr("'resolution' must be above zero"));
  EXPECT_THAT(mistake_in(head + "[[probe]]\nname = \"A\"\ntype = \"Pt100\"\nice = 100\n"
                                "resolution = 1e9\n"),
              HasSubstr("checks nothing"));
  EXPECT_FALSE(read_roll_call("/nonexistent/rollcall.toml"));
}

TEST(RollCallDocument, WorksOutTheStepOfADisplay) {
  EXPECT_EQ(step_of({33, 34, 40}), 1.0);
  EXPECT_EQ(step_of({33, 33.5}), 0.5);
  EXPECT_EQ(step_of({33.2, 33.4, NAN}), 0.2);
  EXPECT_EQ(step_of({33.1, 33.4}), 0.1);
  EXPECT_EQ(step_of({33.123}), 0.01);
}

}  // namespace
}  // namespace pitwright::documents
