// Logs broken at random: read_log never crashes and never loses a row that was not touched.
#include <algorithm>
#include <map>
#include <set>

#include "logs/read_text_test.h"
#include "numeric/random.h"

namespace pitwright::logs {
namespace {

using namespace std::string_view_literals;
using numeric::Random;

constexpr int rows = 120;

/// A table of one shape, and the stamp and first reading of each of its rows.
struct Made {
  std::string header;
  std::vector<std::string> lines;  ///< each with its '\n'
  std::vector<std::int64_t> ms;
  std::vector<double> values;
};

Made make_table(int shape) {
  Made made;
  made.header = shape == 0   ? "time,A,B\n"
                : shape == 1 ? "time;A;B\n"
                : shape == 2 ? "time,A,Note\n"
                             : "time\tA\tB\tC\n";
  for (int i = 0; i < rows; ++i) {
    const auto clock = fmt::format("2026-05-02T13:{:02}:{:02}Z", 5 + i / 60, i % 60);
    const double value = 100.0 + i + 0.5;
    std::string line;
    if (shape == 0) line = fmt::format("{},{:.1f},{}\n", clock, value, 90 + i);
    if (shape == 1) line = fmt::format("{};{},5;{},25\r\n", clock, 100 + i, 90 + i);
    if (shape == 2) line = fmt::format("{},{:.1f},\"note {}, \"\"said\"\"\"\n", clock, value, i);
    if (shape == 3) line = fmt::format("{}\t{:.1f}\t\t{}\n", clock, value, i);
    made.lines.push_back(line);
    made.ms.push_back(afternoon + i * 1000LL);
    made.values.push_back(value);
  }
  return made;
}

/// Bytes that hurt more than others.
char nasty_byte(Random& random) {
  static constexpr std::string_view bytes("\"\n\r,;\t \0\xFF\x80-.eE:TZ0129\"\n"sv);
  return random.below(3) == 0
             ? static_cast<char>(random.below(256))
             : bytes[static_cast<std::size_t>(random.below(static_cast<int>(bytes.size())))];
}

void mutate(std::string& line, Random& random) {
  const auto at = static_cast<std::size_t>(random.below(static_cast<int>(line.size())));
  switch (random.below(4)) {
    case 0:
      line[at] = nasty_byte(random);
      break;
    case 1:
      line.insert(at, 1, nasty_byte(random));
      break;
    case 2:
      line.erase(at, 1 + static_cast<std::size_t>(random.below(5)));
      break;
    default:
      line.insert(
          at, line.substr(static_cast<std::size_t>(random.below(static_cast<int>(line.size())))));
  }
}

TEST(BrokenLogs, NeverLoseARowThatWasNotTouched) {
  for (std::uint64_t seed = 1; seed <= 1500; ++seed) {
    Random random(seed);
    auto made = make_table(static_cast<int>(seed % 4));
    std::set<std::size_t> touched;
    const int wounds = 1 + random.below(6);
    for (int k = 0; k < wounds; ++k) {
      const auto i = static_cast<std::size_t>(random.below(rows));
      if (made.lines[i].empty()) continue;
      mutate(made.lines[i], random);
      touched.insert(i);
      if (!made.lines[i].ends_with('\n'))
        touched.insert(i + 1);  // its end is gone: two rows are one
    }
    std::string text = made.header;
    for (const auto& line : made.lines) text += line;
    const auto log = read_text(text);
    ASSERT_TRUE(log) << log.error().what << " seed " << seed;
    const auto& channel = log->channels.front();
    for (std::size_t i = 0; i < made.ms.size(); ++i) {
      if (touched.contains(i)) continue;
      const auto* const found = std::ranges::lower_bound(channel.ms, made.ms[i]);
      ASSERT_TRUE(found != channel.ms.end() && *found == made.ms[i])
          << "row " << i << " seed " << seed;
      const auto value = channel.values[static_cast<std::size_t>(found - channel.ms.begin())];
      if (log->duplicates > 0) continue;  // a broken stamp may have become this one
      ASSERT_EQ(value, made.values[i]) << "row " << i << " seed " << seed;
    }
  }
}

TEST(BrokenLogs, NeverCrashWhereverTheyAreBroken) {
  int readable = 0;
  for (std::uint64_t seed = 1; seed <= 1500; ++seed) {
    Random random(seed, 1);
    const auto made = make_table(static_cast<int>(seed % 4));
    std::string text = made.header;
    const int kept = 1 + random.below(20);
    for (int i = 0; i < kept; ++i) text += made.lines[static_cast<std::size_t>(i)];
    const int wounds = 1 + random.below(40);
    for (int k = 0; k < wounds && !text.empty(); ++k) mutate(text, random);
    if (random.below(4) == 0) text.resize(text.size() / 2);
    const auto log = read_text(text);
    if (!log) {
      EXPECT_FALSE(log.error().what.empty());
      continue;
    }
    ++readable;
    for (const auto& channel : log->channels) {
      EXPECT_EQ(channel.ms.size(), channel.values.size());
      EXPECT_TRUE(std::ranges::is_sorted(channel.ms, std::less_equal<>{})) << "seed " << seed;
    }
  }
  EXPECT_GT(readable, 300);
}

}  // namespace
}  // namespace pitwright::logs
