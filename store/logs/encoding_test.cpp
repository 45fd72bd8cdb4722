#include "logs/encoding.h"

#include <gtest/gtest.h>

namespace pitwright::logs {
namespace {

using namespace std::string_literals;

TEST(Encoding, IsToldByMarkZerosOrBytes) {
  EXPECT_EQ(guess_encoding("\xEF\xBB\xBF"
                           "a")
                .mark,
            3U);
  EXPECT_EQ(guess_encoding("\xFF\xFE"
                           "a\0"s)
                .encoding,
            Encoding::utf16_le);
  EXPECT_EQ(guess_encoding("\xFE\xFF\0a"s).encoding, Encoding::utf16_be);
  EXPECT_EQ(guess_encoding("t\0i\0m\0e\0"s).encoding, Encoding::utf16_le);
  EXPECT_EQ(guess_encoding("\0t\0i\0m\0e"s).encoding, Encoding::utf16_be);
  EXPECT_EQ(guess_encoding("Grill (\xB0"
                           "F)")
                .encoding,
            Encoding::latin1);
  EXPECT_EQ(guess_encoding("Grill (\xC2\xB0"
                           "F)")
                .encoding,
            Encoding::utf8);
  EXPECT_EQ(guess_encoding("plain").encoding, Encoding::utf8);
}

TEST(Utf16, DecodesPairsAcrossPieces) {
  // U+1F525 is D83D DD25 in UTF-16. Source: The Unicode Standard, 3.9, D91.
  Utf16Decoder decoder(Encoding::utf16_be);
  std::string out;
  decoder.decode("\xD8"s, out);
  decoder.decode("\x3D\xDD"s, out);
  decoder.decode("\x25\0a"s, out);
  EXPECT_EQ(out,
            "\xF0\x9F\x94\xA5"
            "a");
}

TEST(Utf16, MakesHalfAPairOneReplacement) {
  Utf16Decoder decoder(Encoding::utf16_be);
  std::string out;
  decoder.decode("\xD8\x3D\0a\xDD\x25"s, out);
  EXPECT_EQ(out,
            "\xEF\xBF\xBD"
            "a"
            "\xEF\xBF\xBD");
}

TEST(Text, ReplacesBytesThatMeanNothing) {
  EXPECT_EQ(to_utf8("a\x80"
                    "b\xC2\xB0",
                    Encoding::utf8),
            "a\xEF\xBF\xBD"
            "b\xC2\xB0");
  EXPECT_EQ(to_utf8("\xED\xA0\x80", Encoding::utf8), "\xEF\xBF\xBD\xEF\xBF\xBD\xEF\xBF\xBD");
  EXPECT_EQ(to_utf8("\xB0"
                    "F",
                    Encoding::latin1),
            "\xC2\xB0"
            "F");
}

}  // namespace
}  // namespace pitwright::logs
