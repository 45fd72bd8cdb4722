#include "picture/render.h"

#include <filesystem>
#include <fstream>
#include <iterator>

#include <gtest/gtest.h>

#include "picture/lay_picture.h"
#include "picture/test_lays.h"

namespace pitwright::picture {
namespace {

Picture small() {
  return draw_lay(test::one_spot().lay, Page::narrow);
}

std::string bytes_of(const std::filesystem::path& file) {
  std::ifstream in(file, std::ios::binary);
  return {std::istreambuf_iterator<char>(in), {}};
}

/// Big-endian 32-bit number. Source of the places: PNG specification (ISO/IEC 15948), IHDR.
unsigned number_at(const std::string& bytes, std::size_t at) {
  unsigned value = 0;
  for (std::size_t k = 0; k < 4; ++k)
    value = value << 8U | static_cast<unsigned char>(bytes[at + k]);
  return value;
}

TEST(Render, PngHasTwoPixelsAPx) {
  const auto picture = small();
  const auto png = png_of(picture);
  ASSERT_TRUE(png) << png.error().what;
  EXPECT_EQ(png->substr(0, 8), "\x89PNG\r\n\x1a\n");
  EXPECT_EQ(number_at(*png, 16), 2U * 390U);
  EXPECT_EQ(number_at(*png, 20), static_cast<unsigned>(2 * picture.height));
}

TEST(Render, ATallPictureIsMadeSmallerRatherThanRefused) {
  Svg svg;
  const auto png = png_of(svg.finish("tall", 20, 40'000, "t", "d"));
  ASSERT_TRUE(png) << png.error().what;
  EXPECT_LE(number_at(*png, 20), 30'000U);
}

TEST(Render, PdfIsOnePage) {
  const auto pdf = pdf_of(small());
  ASSERT_TRUE(pdf) << pdf.error().what;
  EXPECT_EQ(pdf->substr(0, 5), "%PDF-");
  EXPECT_NE(pdf->find("/Count 1"), std::string::npos);
}

TEST(Render, WhatIsNotSvgIsSaid) {
  const auto png = png_of({"<svg", 10, 10});
  ASSERT_FALSE(png);
  EXPECT_NE(png.error().what.find("cannot be drawn"), std::string::npos);
}

TEST(WritePicture, TheEndingSaysHow) {
  const auto folder = std::filesystem::temp_directory_path() / "pitwright_render_test";
  std::filesystem::create_directories(folder);
  for (const auto& [name, start] :
       {std::pair{"a.svg", "<svg"}, {"a.png", "\x89PNG"}, {"a.pdf", "%PDF"}}) {
    ASSERT_TRUE(write_picture(small(), folder / name));
    EXPECT_EQ(bytes_of(folder / name).substr(0, 4), start);
  }
  std::filesystem::remove_all(folder);
}

TEST(WritePicture, SaysWhatCannotBeWritten) {
  const auto nowhere = write_picture(small(), "/nonexistent/folder/a.svg");
  ASSERT_FALSE(nowhere);
  EXPECT_EQ(nowhere.error().kind, ErrorKind::unavailable);
  EXPECT_EQ(nowhere.error().what,
            "cannot write '/nonexistent/folder/a.svg': No such file or directory");
  const auto full = write_picture(small(), "/dev/full", FileKind::svg);
  ASSERT_FALSE(full);
  EXPECT_EQ(full.error().what, "cannot write '/dev/full': No space left on device");
  const auto unknown = write_picture(small(), "/dev/full");
  ASSERT_FALSE(unknown);
  EXPECT_EQ(unknown.error().kind, ErrorKind::bad_input);
  EXPECT_NE(unknown.error().what.find(".svg, .png or .pdf"), std::string::npos);
}

}  // namespace
}  // namespace pitwright::picture
