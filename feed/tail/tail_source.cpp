#include "tail/tail_source.h"

#include <chrono>
#include <string>
#include <vector>

#include <fmt/format.h>

#include "tail/follower.h"
#include "tail/table_lines.h"

namespace pitwright::feed {

Result<void> run_tail(const FileFeed& feed, const std::filesystem::path& memory, Outlet& outlet,
                      Troubles& troubles) {
  constexpr std::chrono::milliseconds rest{250};
  constexpr std::size_t learned_from = std::size_t{64} * 1024;
  constexpr int patient_rests = 12;  // 3 s without a further line: what is there is all there is
  const auto kept = memory / (feed.name + ".place");
  Follower follower(feed.file);
  TableLines table(feed.name, feed.hints, troubles);
  const auto before = memory.empty() ? std::nullopt : load_place(kept);
  std::int64_t table_at = 0;
  if (before && before->offset > 0) {
    follower.resume(*before);
    table_at = before->table;
    if (!table.learn(follower.bytes(table_at, learned_from))) follower.rewind();
  }
  int rests = 0;
  while (!outlet.stopping()) {
    const auto lines = follower.lines();
    if (!lines) {
      troubles.once(feed.name + ": file",
                    fmt::format("{}: {}; waiting for it", feed.name, lines.error().what));
      if (outlet.pause(rest * 4)) return {};
      continue;
    }
    troubles.over(feed.name + ": file");
    if (lines->from_start) {
      table.restart();
      table_at = 0;
    }
    std::vector<Reading> readings;
    const bool learning_on =
        !lines->text.empty() || (table.waiting() > 0 && ++rests >= patient_rests);
    if (learning_on) {
      rests = 0;
      const auto read = table.read(lines->text, readings);
      if (!read) {
        return fail(read.error().kind, "{}: {}: {}", feed.name, feed.file.string(),
                    read.error().what);
      }
    }
    if (const auto back = table.new_table()) {
      table_at = follower.place().offset - static_cast<std::int64_t>(*back);
    }
    if (!readings.empty() && !outlet.deliver({feed.name, std::move(readings), {}})) return {};
    if (!lines->text.empty() && table.waiting() == 0 && !memory.empty()) {
      auto place = follower.place();
      place.table = table_at;
      if (const auto saved = save_place(kept, place); !saved) {
        troubles.once(feed.name + ": place", fmt::format("{}: {}", feed.name, saved.error().what));
      }
    }
    if (lines->text.empty() && outlet.pause(rest)) return {};
  }
  return {};
}

}  // namespace pitwright::feed
