#include "photo/photo.h"

#include <cmath>
#include <filesystem>
#include <fstream>
#include <iterator>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

namespace pitwright::photo {
namespace {

namespace fs = std::filesystem;
using testing::HasSubstr;

const fs::path shipped = PITWRIGHT_SOURCE_DIR "/data/toast/left-lamp.jpg";

/// Corners as data/toast/left-lamp.toml tells them; read there so that both stay the same.
Scene scene() {
  std::ifstream file(PITWRIGHT_SOURCE_DIR "/data/toast/left-lamp.toml");
  const std::string text((std::istreambuf_iterator<char>(file)), {});
  const auto pixels = [&](const std::string& key, std::size_t from, std::size_t count) {
    std::vector<double> all;
    auto at = text.find(key, from) + key.size();
    while (all.size() < count) {
      at = text.find_first_of("0123456789", at);
      std::size_t used = 0;
      all.push_back(std::stod(text.substr(at), &used));
      at += used;
    }
    return all;
  };
  Scene s{{}, 0.66, 0.44, {}, {}, LightFrom::grate};
  const char* keys[] = {"left_back", "right_back", "right_front", "left_front"};
  for (std::size_t k = 0; k < 4; ++k) {
    const auto p = pixels(keys[k], 0, 2);
    s.grate[k] = {p[0], p[1]};
  }
  const auto c = pixels("corners", text.find("[[card]]"), 8);
  s.cards.push_back({});
  for (std::size_t k = 0; k < 4; ++k) s.cards[0].corners[k] = {c[2 * k], c[2 * k + 1]};
  return s;
}

std::string complaint(const fs::path& path, const Scene& s) {
  const auto seen = read_photo(path, s);
  return seen ? "none" : seen.error().what;
}

fs::path written(const std::string& name, const std::string& bytes) {
  const auto path = fs::path(testing::TempDir()) / name;
  std::ofstream(path, std::ios::binary) << bytes;
  return path;
}

std::string bytes_of(const fs::path& path) {
  std::ifstream file(path, std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

/// The square of half a side `h` about a place of the grate, by the corners' bilinear map.
Quad square(const Scene& s, double x, double y, double h) {
  const auto at = [&](double u, double v) {
    const auto& g = s.grate;
    const auto mix = [&](double lb, double rb, double rf, double lf) {
      return (1 - u) * (v * lb + (1 - v) * lf) + u * (v * rb + (1 - v) * rf);
    };
    return Pixel{mix(g[0].x, g[1].x, g[2].x, g[3].x), mix(g[0].y, g[1].y, g[2].y, g[3].y)};
  };
  return {at(x - h, y + h), at(x + h, y + h), at(x + h, y - h), at(x - h, y - h)};
}

TEST(Photo, ThatIsNoneOrBrokenIsRefused) {
  if (!has_reader()) GTEST_SKIP();
  EXPECT_THAT(complaint("nowhere.jpg", scene()), HasSubstr("no such photograph"));
  EXPECT_THAT(complaint(written("text.jpg", "time,a\n1,2\n"), scene()),
              HasSubstr("no JPEG or PNG"));
  EXPECT_THAT(complaint(written("empty.jpg", ""), scene()), HasSubstr("no JPEG or PNG"));
  const auto whole = bytes_of(shipped);
  EXPECT_THAT(complaint(written("cut.jpg", whole.substr(0, whole.size() / 2)), scene()),
              HasSubstr("broken"));
  const std::string small("\x89PNG\r\n\x1A\n\0\0\0\rIHDR\0\0\1\0\0\0\0\xC8", 24);
  EXPECT_THAT(complaint(written("small.png", small), scene()), HasSubstr("too few"));
  const std::string huge("\x89PNG\r\n\x1A\n\0\0\0\rIHDR\0\1\0\0\0\1\0\0", 24);
  EXPECT_THAT(complaint(written("huge.png", huge), scene()), HasSubstr("too many"));
}

TEST(Photo, WithWrongCornersSaysWhichWay) {
  if (!has_reader()) GTEST_SKIP();
  auto s = scene();
  s.grate[2].x = 5000;
  EXPECT_THAT(complaint(shipped, s), HasSubstr("outside the photograph of 960 x 720"));
  s = scene();
  std::swap(s.grate[0], s.grate[1]);
  EXPECT_THAT(complaint(shipped, s), HasSubstr("crossed"));
  std::swap(s.grate[2], s.grate[3]);
  EXPECT_THAT(complaint(shipped, s), HasSubstr("wrong way"));
  s = scene();
  s.width_m = s.depth_m = 4.0;
  EXPECT_THAT(complaint(shipped, s), HasSubstr("too few pixels"));
}

TEST(Photo, WithoutAUsableGrayCardIsRefused) {
  if (!has_reader()) GTEST_SKIP();
  auto s = scene();
  const auto good = s.cards[0].corners;
  s.cards[0].corners = square(s, 0.42, 0.12, 0.04);  // on brown bread
  EXPECT_THAT(complaint(shipped, s), HasSubstr("not gray"));
  s.cards[0].corners = square(s, 0.5, 0.5, 0.25);  // bread, bars and table
  EXPECT_THAT(complaint(shipped, s), HasSubstr("card 1"));
  s.cards = {{good}, {{Pixel{-5, 3}, Pixel{10, 3}, Pixel{10, 9}, Pixel{-5, 9}}}};
  EXPECT_THAT(complaint(shipped, s), HasSubstr("card 2"));
  s.cards.clear();
  EXPECT_THAT(complaint(shipped, s), HasSubstr("a gray card is needed"));
}

TEST(Photo, OfABareTableHasNoSlices) {
  if (!has_reader()) GTEST_SKIP();
  auto s = scene();
  // The strip of table below the grate: no bread lies there.
  s.grate = {Pixel{300, 640}, Pixel{700, 640}, Pixel{700, 715}, Pixel{300, 715}};
  s.depth_m = 0.12;
  EXPECT_THAT(complaint(shipped, s), HasSubstr("no slices found"));
}

TEST(Photo, TurnedByItsExifIsReadAsItIsShown) {
  if (!has_reader()) GTEST_SKIP();
  // Orientation 3: upside down. The same corners, turned, find the same bread.
  auto bytes = bytes_of(shipped);
  const std::string exif(
      "\xFF\xE1\0\x22"
      "Exif\0\0MM\0*\0\0\0\x08\0\x01\x01\x12\0\x03\0\0\0\x01\0\x03\0\0\0\0\0\0",
      36);
  bytes.insert(2, exif);
  const auto s = scene();
  auto turned = s;
  const auto turn = [](Pixel p) { return Pixel{960 - p.x, 720 - p.y}; };
  for (auto& p : turned.grate) p = turn(p);
  for (auto& p : turned.cards[0].corners) p = turn(p);
  const auto a = read_photo(shipped, s), b = read_photo(written("turned.jpg", bytes), turned);
  ASSERT_TRUE(a && b);
  ASSERT_EQ(a->slices.size(), b->slices.size());
  for (std::size_t i = 0; i < a->slices.size(); ++i) {
    EXPECT_NEAR(a->slices[i].x_m, b->slices[i].x_m, 0.001);
    EXPECT_NEAR(a->slices[i].color.lightness, b->slices[i].color.lightness, 0.5);
  }
}

TEST(Photo, WithoutTheLightTakenOutIsOffByMoreThanWith) {
  if (!has_reader()) GTEST_SKIP();
  auto s = scene();
  const auto with = read_photo(shipped, s);
  s.light = LightFrom::none;
  const auto without = read_photo(shipped, s);
  ASSERT_TRUE(with && without);
  EXPECT_EQ(with->light_from, LightFrom::grate);
  EXPECT_GT(with->light.ratio(), 1.5);
  double most = 0.0;
  for (std::size_t i = 0; i < with->slices.size(); ++i)
    most = std::max(most,
                    std::abs(with->slices[i].color.lightness - without->slices[i].color.lightness));
  EXPECT_GT(most, 8.0);
}

}  // namespace
}  // namespace pitwright::photo
