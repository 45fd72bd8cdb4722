#include <algorithm>
#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <string>

#include <gtest/gtest.h>

#include "picture/changes_picture.h"
#include "picture/lay_picture.h"
#include "picture/strip_picture.h"
#include "picture/test_lays.h"
#include "samples/sample_calls.h"

// The pictures under tests/golden/picture are looked at before they are committed, wide, narrow and
// in grey. Remake them with
// UPDATE_GOLDEN=1 build/dev/app/picture/picture_test --gtest_filter='*PictureGolden*'.

namespace pitwright::picture {
namespace {

const std::filesystem::path golden = PITWRIGHT_SOURCE_DIR "/tests/golden/picture";

std::string kept(const std::filesystem::path& path) {
  std::ifstream in(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

void expect_golden(const std::string& name, const Picture& drawn) {
  const auto path = golden / name;
  if (std::getenv("UPDATE_GOLDEN") != nullptr) std::ofstream(path) << drawn.svg;
  ASSERT_TRUE(std::filesystem::exists(path)) << path << " is missing; make it with UPDATE_GOLDEN=1";
  const auto before = kept(path);
  const auto [a, b] = std::ranges::mismatch(before, drawn.svg);
  EXPECT_TRUE(before == drawn.svg)
      << name << " changed from: " << std::string(a, std::min(a + 80, before.end()))
      << "\nto: " << std::string(b, std::min(b + 80, drawn.svg.end()))
      << "\nIf it should, look at it and remake it with UPDATE_GOLDEN=1";
}

TEST(PictureGolden, LaysStayAsTheyWereSeen) {
  expect_golden("lay_two_shelves_wide.svg", draw_lay(test::two_shelves().lay, Page::wide));
  expect_golden("lay_one_barrel_narrow.svg", draw_lay(test::one_barrel().lay, Page::narrow));
}

TEST(PictureGolden, CallsStayAsTheyWereSeen) {
  const auto tray = samples::tray_moved();
  const report::CallView view{tray.report, tray.burn, Scale::fahrenheit};
  expect_golden("changes_tray_moved_narrow.svg", draw_changes(view, Page::narrow));
  const auto running = samples::running_burn();
  expect_golden("strip_running_burn_wide.svg",
                draw_strip(strip_of({running.report, running.burn, Scale::celsius}), Page::wide));
}

}  // namespace
}  // namespace pitwright::picture
