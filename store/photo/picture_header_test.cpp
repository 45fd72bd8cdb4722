#include "photo/picture_header.h"

#include <fstream>
#include <iterator>
#include <vector>

#include <gtest/gtest.h>

namespace pitwright::photo {
namespace {

using Bytes = std::vector<unsigned char>;

Bytes shipped() {
  std::ifstream file(PITWRIGHT_SOURCE_DIR "/data/toast/left-lamp.jpg", std::ios::binary);
  return {std::istreambuf_iterator<char>(file), {}};
}

/// The picture with an Exif block, big endian, whose only entry is the orientation.
Bytes turned(unsigned char orientation) {
  const Bytes exif{0xFF, 0xE1, 0x00, 0x22, 'E', 'x',         'i', 'f', 0,    0,    'M', 'M',
                   0,    42,   0,    0,    0,   8,           0,   1,   0x01, 0x12, 0,   3,
                   0,    0,    0,    1,    0,   orientation, 0,   0,   0,    0,    0,   0};
  auto bytes = shipped();
  bytes.insert(bytes.begin() + 2, exif.begin(), exif.end());
  return bytes;
}

TEST(PictureSize, IsReadFromJpegAndPng) {
  const auto jpeg = picture_size(shipped());
  ASSERT_TRUE(jpeg);
  EXPECT_EQ(jpeg->width, 960);
  EXPECT_EQ(jpeg->height, 720);
  const Bytes png{0x89, 'P', 'N', 'G', '\r', '\n', 0x1A, '\n', 0, 0, 0, 13,
                  'I',  'H', 'D', 'R', 0,    0,    1,    0,    0, 0, 0, 200};
  EXPECT_EQ(picture_size(png)->width, 256);
  EXPECT_EQ(picture_size(png)->height, 200);
}

TEST(PictureSize, OfAnythingElseOrACutHeaderIsNothing) {
  auto bytes = shipped();
  for (std::size_t length = 0; length < 150; ++length)
    EXPECT_FALSE(picture_size({bytes.data(), length}));
  EXPECT_FALSE(picture_size(Bytes{'G', 'I', 'F', '8', '9', 'a', 0, 0, 0, 0}));
}

TEST(ExifOrientation, IsReadWhereItStands) {
  EXPECT_EQ(exif_orientation(shipped()), 1);
  for (unsigned char k = 1; k <= 8; ++k) EXPECT_EQ(exif_orientation(turned(k)), k);
  EXPECT_EQ(exif_orientation(turned(9)), 1);
}

}  // namespace
}  // namespace pitwright::photo
