#include "toast/burn_probes.h"

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace pitwright::toast {
namespace {

using testing::HasSubstr;

BurnSource tray(const std::string& setting, const std::string& grate) {
  return {PITWRIGHT_SOURCE_DIR "/examples/hopper-tray", setting, grate, 0.05, 0.02};
}

// The README's page of this burn: level 240 at A, L1 runs +10 and R2 -9 (degF).
TEST(ProbesOfBurn, AreLevelPlusRunAtTheirPlacesOnTheGrate) {
  const auto probes = probes_of_burn(tray("A", "main"));
  ASSERT_TRUE(probes) << probes.error().what;
  ASSERT_EQ(probes->size(), 4U);
  const auto& l1 = probes->front();
  EXPECT_EQ(l1.spot, "L1");
  EXPECT_NEAR(l1.x_m, 0.10, 1e-9);
  EXPECT_NEAR(l1.y_m, 0.10, 1e-9);
  EXPECT_NEAR(l1.heat_c * 1.8 + 32.0, 250.0, 1.5);  // two rounded numbers and their sum
  EXPECT_NEAR(probes->back().heat_c * 1.8 + 32.0, 231.0, 1.5);
  EXPECT_GT(l1.sd_k * 1.8, 1.0);
}

TEST(ProbesOfBurn, SayWhatTheBurnLacks) {
  EXPECT_THAT(probes_of_burn(tray("C", "main")).error().what, HasSubstr("no setting 'C'"));
  EXPECT_THAT(probes_of_burn(tray("A", "mian")).error().what, HasSubstr("did you mean 'main'"));
  EXPECT_THAT(probes_of_burn(tray("A", "")).error().what, HasSubstr("say which"));
  EXPECT_FALSE(probes_of_burn({"nowhere", "A", "", 0, 0}));
}

}  // namespace
}  // namespace pitwright::toast
