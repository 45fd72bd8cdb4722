#include "report/sentence.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "report/call_words.h"
#include "report/text_width.h"
#include "samples/sample_calls.h"
#include "samples/sample_parts.h"

namespace pitwright::report {
namespace {

using call::Word;
using samples::SampleCall;
using testing::HasSubstr;
using testing::Not;

std::string told(const SampleCall& sample, Scale scale = Scale::fahrenheit) {
  return sentence({sample.report, sample.burn, scale});
}

TEST(Sentence, TellsTheTiltTheLevelAndWhyWhereTheTrayMoved) {
  const auto text = told(samples::tray_moved());
  EXPECT_THAT(text, HasSubstr("B moves the heat 17° from left to right (15 to 19): clear."));
  EXPECT_THAT(text,
              HasSubstr("The whole chamber may run 8° (−1 to 17) hotter at B, not yet clear"));
  EXPECT_THAT(text, HasSubstr("sensor (left wall) sits on the left, the side that lost heat"));
}

TEST(Sentence, DoesNotBlameASensorOnTheSideThatGained) {
  auto sample = samples::tray_moved();
  for (auto& probe : sample.burn.probes) {
    if (probe.role == Role::dial) probe.x_m = 0.64;
  }
  EXPECT_THAT(told(sample), Not(HasSubstr("sensor")));
}

TEST(Sentence, AsksForTheSensorsPlaceWhereNobodyToldIt) {
  auto sample = samples::tray_moved();
  for (auto& probe : sample.burn.probes) {
    if (probe.role == Role::dial) probe.x_m.reset();
  }
  EXPECT_THAT(told(sample), HasSubstr("give its place to know"));
}

TEST(Sentence, ConvertsDifferencesAsDifferences) {
  // 16.6 F degrees are 9.2 K; never 16.6 - 32.
  EXPECT_THAT(told(samples::tray_moved(), Scale::celsius),
              HasSubstr("moves the heat 9° from left to right (8 to 10): clear."));
}

TEST(Sentence, GroupsSettingsThatAreEquallyEven) {
  const auto text = told(samples::three_baffles());
  EXPECT_THAT(text, HasSubstr("B and C are equally even; they only swap the hot end."));
  EXPECT_THAT(text, HasSubstr("A is out, its spread 29° (25 to 33) bigger than at C: clear."));
}

TEST(Sentence, DoesNotCallSettingsEquallyEvenBeforeTheWordSaysSo) {
  auto sample = samples::three_baffles();
  sample.report.spread.changes[2].word = Word::too_close;
  sample.report.spread.changes[2].needs_stints = 4;
  const auto text = told(sample);
  EXPECT_THAT(text, Not(HasSubstr("equally")));
  EXPECT_THAT(text, HasSubstr("most even: too close; 4 more stints"));
}

TEST(Sentence, SaysNoOddsWithItsLimitAndKeepsTheLevelApart) {
  const auto text = told(samples::damper_opened());
  EXPECT_THAT(text, HasSubstr("No odds in where the heat lies: nothing bigger than 3°."));
  EXPECT_THAT(text, HasSubstr("The whole chamber may run 11°"));
}

TEST(Sentence, NeverCallsASpotHotterWithoutTheWholeChamber) {
  auto sample = samples::damper_opened();
  sample.report.tilts.clear();
  sample.report.spots[0].runs.changes[0] = samples::change({0, 1}, 14, 2, 3, Word::clear);
  EXPECT_THAT(told(sample), HasSubstr("Against the whole chamber, top runs 14° (12 to 16) hotter"));
}

TEST(Sentence, SaysWhatSpoiledAMuddledCallAndWhatWouldMendIt) {
  const auto text = told(samples::still_heating());
  EXPECT_THAT(text, HasSubstr("Muddled: the pit was still heating, with 11° to come"));
  EXPECT_THAT(text, HasSubstr("Let it soak longer"));
  EXPECT_THAT(text, Not(HasSubstr("clear")));
}

TEST(Sentence, TellsWhatStandsApartFromASettingThatIsMuddled) {
  auto sample = samples::three_baffles();
  auto& report = sample.report;
  report.troubles = {{call::TroubleKind::soak, call::TroubleCode::still_warming, "A", {}, 2.0}};
  const auto spoil = [](call::Quantity& quantity) {
    for (auto& change : quantity.changes) {
      if (change.from != 0) continue;
      change.word = Word::muddled;
      change.because = {0};
    }
  };
  spoil(report.level);
  spoil(report.spread);
  for (auto& spot : report.spots) spoil(spot.runs);
  for (auto& tilt : report.tilts) spoil(tilt.tilt);
  const auto text = told(sample);
  EXPECT_THAT(text,
              HasSubstr("Against B, C moves the heat 24° from right to left (20 to 28): clear."));
  EXPECT_THAT(text,
              HasSubstr("Every comparison with A is muddled: the pit was still heating in A"));
  EXPECT_THAT(text, Not(HasSubstr("A is out")));
}

TEST(Sentence, TellsTogetherWhatTheSameTroubleSpoiled) {
  auto sample = samples::tray_moved();
  auto& report = sample.report;
  report.level.changes[0].word = Word::muddled;
  report.level.changes[0].because = {0};
  report.spread.changes[0].word = Word::muddled;
  report.spread.changes[0].because = {0};
  const auto text = told(sample);
  EXPECT_THAT(text, HasSubstr("moves the heat 17° from left to right (15 to 19): clear."));
  EXPECT_THAT(text, HasSubstr("The spread and the level are muddled: the lid was open"));
}

TEST(Sentence, CountsStintsThatWereStillHeating) {
  auto sample = samples::still_heating();
  auto& troubles = sample.report.troubles;
  troubles[1] = troubles[0];
  troubles[0].at_s = 3400.0;
  troubles[1].at_s = 5500.0;
  EXPECT_THAT(told(sample),
              HasSubstr("Muddled: the pit was still heating in 2 stints. Let it soak"));
}

TEST(Sentence, SaysOnceWhatSeveralQuestionsNeed) {
  auto sample = samples::damper_opened();
  for (auto& spot : sample.report.spots) {
    spot.runs.changes[0].word = Word::not_yet;
    spot.runs.changes[0].needs_stints = 2;
  }
  const auto text = told(sample);
  const std::string need = "2 more stints would probably settle it";
  EXPECT_NE(text.find(need), std::string::npos);
  EXPECT_EQ(text.find(need), text.rfind(need));
}

TEST(Sentence, HasNoChangeToCallWithOneSetting) {
  const auto text = told(samples::one_position(), Scale::celsius);
  EXPECT_THAT(text, HasSubstr("ran at 131°"));
  EXPECT_THAT(text, HasSubstr("no change to call"));
}

TEST(Sentence, TellsTheDialGap) {
  EXPECT_THAT(told(samples::fouled_sensor()),
              HasSubstr("The dial gap goes from −24° to −5°, a change of 19° (15 to 23): clear."));
}

TEST(Sentence, SaysWhatACookByTheOldDialWasOnlyWhereTheGapIsClear) {
  auto sample = samples::fouled_sensor();
  EXPECT_THAT(told(sample),
              HasSubstr("A cook with 250° on the dial at before was a cook at 274° (269 to 279) of "
                        "chamber air; at after, 250° on the dial is 255° (250 to 260). Write 274° "
                        "beside its times and do not use them for 250°."));
  for (const auto word : {Word::too_close, Word::not_yet, Word::no_odds, Word::muddled}) {
    sample.report.dial_gap->changes[0].word = word;
    EXPECT_THAT(told(sample), Not(HasSubstr("A cook"))) << name_of(word);
  }
}

TEST(Sentence, SaysSoWhereNothingCounts) {
  EXPECT_THAT(told(samples::nothing_counted()), HasSubstr("Nothing counts"));
}

TEST(Sentence, SaysClearOnlyWhereSomeWordIsClear) {
  for (auto sample : samples::all_samples()) {
    const auto unclear = [](call::Quantity& quantity) {
      for (auto& change : quantity.changes) {
        if (change.word == Word::clear) change.word = Word::not_yet;
      }
    };
    unclear(sample.report.level);
    unclear(sample.report.spread);
    for (auto& spot : sample.report.spots) unclear(spot.runs);
    for (auto& tilt : sample.report.tilts) unclear(tilt.tilt);
    if (sample.report.dial_gap) unclear(*sample.report.dial_gap);
    EXPECT_THAT(told(sample), Not(HasSubstr(": clear"))) << sample.name;
  }
}

TEST(LiveWords, TellStateAndNextStep) {
  const auto sample = samples::running_burn();
  const CallView view{sample.report, sample.burn, Scale::fahrenheit};
  EXPECT_EQ(live_state_text(view), "Counting, 11 of 20 min.");
  EXPECT_EQ(live_next_text(view), "leave it; change to A at 15:11");
}

TEST(WordCell, NamesStintsAndTroubles) {
  auto change = samples::change({0, 1}, 1, 2, 3, Word::not_yet, 2);
  EXPECT_EQ(word_cell(change), "not yet, 2 more");
  change.needs_stints.reset();
  EXPECT_EQ(word_cell(change), "not yet, over 12");
  EXPECT_EQ(word_cell(samples::muddled({0, 1}, 1, 2, {0, 2})), "muddled [1, 3]");
}

}  // namespace
}  // namespace pitwright::report
