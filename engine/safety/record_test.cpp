#include "safety/record.h"

#include <gmock/gmock.h>

#include "safety/practice_trace.h"

namespace pitwright::safety {
namespace {

constexpr double hour_s = 3600.0;

PieceRecord record(const std::vector<std::pair<double, double>>& corners, Piece piece,
                   double tolerance_f = 0.0) {
  const auto burn = burn_with({food_probe("A", lines(corners, 60), tolerance_f)}, std::move(piece));
  return record_of(burn, burn.pieces[0]);
}

Piece piece_of(const std::string& cut, const std::string& rule) {
  Piece piece;
  piece.cut = cut;
  piece.rule = rule;
  return piece;
}

TEST(Record, TellsTimesAgainstTheRulesChosen) {
  auto piece = piece_of("pork shoulder", "meat 6.5 log, 4 h, come-up 6 h");
  piece.on_s = 0;
  // 2 h 30 min from 40 to 140, then on to 200.
  const auto out = record({{0, 40}, {2.5 * hour_s, 140}, {4 * hour_s, 200}}, piece);
  EXPECT_EQ(out.cooked.verdict, Verdict::met);
  EXPECT_NEAR(out.zone.time.read_s, 2.5 * hour_s, 1e-6);
  EXPECT_EQ(out.zone.verdict, Verdict::met);
  EXPECT_NEAR(*out.zone.over_s(), -1.5 * hour_s, 1e-6);
  EXPECT_NEAR(out.come_up.time.read_s, 2 * hour_s, 1e-6);
  EXPECT_EQ(out.come_up.verdict, Verdict::met);
  EXPECT_TRUE(out.come_up_done && out.come_up_seen);
  EXPECT_NEAR(*out.final_c * 1.8 + 32, 200, 1e-9);
}

TEST(Record, LimitsHoldExactlyAtTheLimitAndHangOnTheToleranceJustBelow) {
  const auto at_limit = [](double hours, double tolerance_f) {
    return record({{0, 40}, {hours * hour_s, 140}, {hours * hour_s + 3600, 160}},
                  piece_of("ribs", "4 h"), tolerance_f)
        .zone.verdict;
  };
  EXPECT_EQ(at_limit(4.0, 0.0), Verdict::met);
  EXPECT_EQ(at_limit(4.1, 0.0), Verdict::not_met);
  EXPECT_EQ(at_limit(3.95, 4.0), Verdict::open);
}

TEST(Record, CountsTimeBeforeTheFirstReadingAgainstTheLimit) {
  auto piece = piece_of("ribs", "4 h");
  piece.on_s = 0;
  const auto out = record({{2 * hour_s, 100}, {4.5 * hour_s, 140}, {5 * hour_s, 160}}, piece);
  EXPECT_NEAR(out.zone.time.unread_s, 2 * hour_s, 1e-6);
  EXPECT_EQ(out.zone.verdict, Verdict::not_met);
  EXPECT_NEAR(out.unread_s, 2 * hour_s, 1e-6);
}

TEST(Record, WithholdsAMeatRuleFromPoultryAndAnIntactRuleFromGroundMeat) {
  const std::vector<std::pair<double, double>> hot{{0, 40}, {7200, 190}};
  EXPECT_EQ(record(hot, piece_of("turkey breast", "meat 6.5 log")).cooked.withheld,
            Withheld::poultry);
  EXPECT_EQ(record(hot, piece_of("turkey breast", "meat 6.5 log")).cooked.verdict,
            Verdict::withheld);
  auto injected = piece_of("pork shoulder", "whole 145 F");
  injected.intact = false;
  EXPECT_EQ(record(hot, injected).cooked.withheld, Withheld::not_intact);
  injected.intact.reset();
  EXPECT_EQ(record(hot, injected).cooked.withheld, Withheld::intact_not_told);
  EXPECT_EQ(record(hot, piece_of("hamburgers", "whole 145 F")).cooked.verdict, Verdict::withheld);
  EXPECT_EQ(record(hot, piece_of("kitchen roast", "meat 6.5 log")).cooked.verdict, Verdict::met);
}

TEST(Record, ShowsTheDwellOfPoultryPulledUnder165) {
  const auto out = record({{0, 40}, {7200, 150}, {7200 + 360, 150}}, piece_of("chicken", ""));
  ASSERT_TRUE(out.chicken && out.turkey);
  EXPECT_TRUE(out.chicken->credited.met);  // 150 degF for 6 min of 4.2 min
  EXPECT_TRUE(out.turkey->credited.met);   // of 4.9 min
  const auto done = record({{0, 40}, {7200, 166}, {7300, 166}}, piece_of("chicken", ""));
  EXPECT_FALSE(done.chicken);
  EXPECT_FALSE(record({{0, 40}, {7200, 150}}, piece_of("beef", "")).chicken);
}

TEST(Record, HoldIsFromTheFirstReadingAtTheLimit) {
  const auto out =
      record({{0, 40}, {7200, 160}, {9000, 130}, {10800, 150}}, piece_of("brisket", "hold 140 F"));
  const auto& held = out.holds[0];
  EXPECT_EQ(held.limit_f, 140);
  EXPECT_NEAR(held.below.read_s, 600 + 900, 1);  // 10 degF down at 60 s a degree, up at 90 s
  EXPECT_EQ(held.verdict, Verdict::not_met);
  EXPECT_NEAR(*held.lowest_c * 1.8 + 32, 130, 1e-9);
  EXPECT_EQ(out.holds[2].below.read_s, 0);
  EXPECT_EQ(out.holds[2].verdict, Verdict::no_rule);
}

// Source: Food Code 3-501.14: 135 to 70 degF within 2 h, to 41 degF within 6 h in all.
TEST(Record, CoolingIsTwoStepsFromTheLastMomentAtTheTop) {
  auto piece = piece_of("brisket", "");
  piece.off_s = 7200;
  const auto cooled = [&](double first_h, double second_h) {
    const double a = 7200 + 3600, b = a + first_h * hour_s, c = b + second_h * hour_s;
    return record({{0, 40}, {7200, 195}, {a, 135}, {b, 70}, {c, 41}, {c + 600, 39}}, piece);
  };
  const auto in_time = cooled(2.0, 4.0);
  ASSERT_TRUE(in_time.cooled);
  EXPECT_FALSE(in_time.cooled->was_chosen);
  EXPECT_EQ(in_time.cooled->steps[0].verdict, Verdict::met);
  EXPECT_EQ(in_time.cooled->steps[1].verdict, Verdict::met);
  EXPECT_NEAR(in_time.cooled->steps[0].took_s, 2 * hour_s, 1);
  EXPECT_NEAR(in_time.cooled->steps[1].took_s, 6 * hour_s, 1);
  const auto late = cooled(2.5, 3.0);
  EXPECT_EQ(late.cooled->steps[0].verdict, Verdict::not_met);
  EXPECT_EQ(late.cooled->steps[1].verdict, Verdict::met);
  // The time of cooling is not time in the zone of the cook.
  EXPECT_LT(in_time.zone_usda.read_s, 2 * hour_s);
}

TEST(Record, AProbePulledOutDoesNotMeetTheCooling) {
  auto piece = piece_of("brisket", "cool food code");
  piece.off_s = 7200;
  const auto out = record({{0, 40}, {7200, 195}, {7800, 180}, {7920, 70}, {9000, 40}}, piece);
  ASSERT_TRUE(out.cooled);
  EXPECT_TRUE(out.cooled->too_fast);
  EXPECT_EQ(out.cooled->steps[0].verdict, Verdict::open);
}

TEST(Record, ARecoveredDipIsNoCooling) {
  auto piece = piece_of("shoulder", "");
  piece.off_s = 12000;
  EXPECT_FALSE(
      record({{0, 40}, {7200, 160}, {9000, 60}, {10800, 150}, {12000, 190}}, piece).cooled);
}

TEST(Record, WithoutReadingsNothingIsCredited) {
  auto piece = piece_of("ribs", "meat 6.5 log, 4 h");
  piece.on_s = 0;
  auto burn = burn_with({food_probe("A", lines({{0, 40}, {7200, 200}}, 60))}, piece);
  burn.probes[0].piece = "another";
  const auto out = record_of(burn, burn.pieces[0]);
  EXPECT_EQ(out.probes, 0);
  EXPECT_EQ(out.cooked.verdict, Verdict::no_record);
  EXPECT_EQ(out.zone.verdict, Verdict::no_record);
  EXPECT_FALSE(out.final_c);
  EXPECT_NEAR(out.zone.time.unread_s, 7200, 1e-6);
}

}  // namespace
}  // namespace pitwright::safety
