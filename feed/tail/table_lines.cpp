#include "tail/table_lines.h"

#include <algorithm>
#include <limits>
#include <utility>

#include <fmt/format.h>

#include "logs/encoding.h"
#include "logs/rows.h"
#include "logs/unit_words.h"
#include "payload/payload.h"

namespace pitwright::feed {
namespace {

constexpr std::size_t most_unread = std::size_t{64} * 1024;

}  // namespace

void TableLines::refuse(std::string_view kind, std::string_view what) {
  troubles_->once(fmt::format("{}: {}", source_, kind), fmt::format("{}: {}", source_, what));
}

void TableLines::restart() {
  shape_.reset();
  clock_.reset();
  unread_.clear();
}

bool TableLines::learn(std::string_view head) {
  restart();
  unread_ = head.substr(0, head.rfind('\n') + 1);
  const auto found = find_out(true);
  unread_.clear();
  return found && *found;
}

/// False: more lines are needed. `enough`: no more will come soon.
Result<bool> TableLines::find_out(bool enough) {
  constexpr auto least_lines = 4;
  const auto lines = std::ranges::count(unread_, '\n');
  if (lines < least_lines && !enough) return false;
  const auto guess = logs::guess_encoding(unread_);
  if (guess.encoding == logs::Encoding::utf16_le || guess.encoding == logs::Encoding::utf16_be) {
    return fail(ErrorKind::bad_input, "a file in UTF-16 cannot be followed");
  }
  if (unread_.starts_with("\xef\xbb\xbf")) unread_.erase(0, 3);
  auto shape = logs::find_shape(unread_, guess.encoding, hints_);
  if (!shape) {
    if (unread_.size() < most_unread) return false;
    return std::unexpected(shape.error());
  }
  if (shape->time.order_open && !hints_.date) {
    return fail(ErrorKind::bad_input,
                "its dates may be read two ways; say date = \"day-first\" or "
                "date = \"month-first\"");
  }
  auto clock = logs::Clock::make(shape->time.form, hints_, shape->decimal);
  if (!clock) return std::unexpected(clock.error());
  if (clock->stamps() == logs::Stamps::elapsed) {
    return fail(ErrorKind::bad_input,
                "its times count from a start that nobody told; say 'zero', "
                "such as zero = 2026-05-02T12:30:00");
  }
  splitter_.emplace(shape->delimiter);
  shape_ = std::move(*shape);
  clock_ = std::move(*clock);
  return true;
}

Result<void> TableLines::read(std::string_view lines, std::vector<Reading>& out) {
  new_table_.reset();
  return take(lines, out);
}

Result<void> TableLines::take(std::string_view lines, std::vector<Reading>& out) {
  std::string first;
  if (!shape_) {
    unread_ += lines;
    const auto found = find_out(lines.empty());
    if (!found) return std::unexpected(found.error());
    if (!*found) return {};
    first = std::exchange(unread_, {});
    lines = std::string_view(first).substr(shape_->data_offset);
  }
  while (!lines.empty()) {
    const auto line = lines.substr(0, lines.find('\n') + 1);
    if (!logs::trimmed(line).empty()) row(line, out);
    if (!shape_) {  // that line was the header of another table
      new_table_ = lines.size();
      const std::string rest(lines);
      return take(rest, out);
    }
    lines.remove_prefix(line.size());
  }
  return {};
}

bool TableLines::is_header(const std::vector<std::string_view>& cells) const {
  const auto& names = shape_->header.names;
  const auto column = static_cast<std::size_t>(shape_->time.form.column);
  return shape_->header_line > 0 && column < cells.size() && column < names.size() &&
         cells[column] == names[column];
}

void TableLines::row(std::string_view line, std::vector<Reading>& out) {
  const auto& cells = splitter_->split(line);
  const auto& form = shape_->time.form;
  const auto column = static_cast<std::size_t>(form.column);
  if (cells.size() < shape_->least_cells || column >= cells.size()) {
    return refuse("short row", fmt::format("a row of {} cells where {} are expected; left out",
                                           cells.size(), shape_->most_cells));
  }
  const auto clock_cell =
      form.clock_column >= 0 && static_cast<std::size_t>(form.clock_column) < cells.size()
          ? cells[static_cast<std::size_t>(form.clock_column)]
          : std::string_view{};
  const auto ms = clock_->read(cells[column], clock_cell);
  if (!ms && is_header(cells)) {
    if (cells.size() != shape_->header.names.size()) return restart();
    return;  // the header again
  }
  if (!ms) return refuse("time", fmt::format("{}; row left out", shown(clock_->reason())));
  const Moment at{std::chrono::milliseconds(*ms)};
  if (shape_->long_layout) {
    one(cells, at, out);
  } else {
    wide(cells, at, out);
  }
}

void TableLines::wide(const std::vector<std::string_view>& cells, Moment at,
                      std::vector<Reading>& out) {
  const auto& header = shape_->header;
  for (const auto i : shape_->wide.channels) {
    if (i < cells.size()) add(header.names[i], cells[i], header.units[i], at, out);
  }
  for (auto i = shape_->most_cells; i < cells.size(); ++i) {
    if (cells[i].empty()) continue;
    const auto name = std::to_string(i + 1);
    refuse("column " + name,
           fmt::format("rows have a further cell without a name; its channel is '{}'", name));
    add(name, cells[i], logs::ChannelUnit::unknown, at, out);
  }
}

void TableLines::one(const std::vector<std::string_view>& cells, Moment at,
                     std::vector<Reading>& out) {
  const auto& layout = *shape_->long_layout;
  if (std::max(layout.name, layout.value) >= cells.size()) return;
  auto unit = layout.value < shape_->header.units.size() ? shape_->header.units[layout.value]
                                                         : logs::ChannelUnit::unknown;
  if (layout.unit && *layout.unit < cells.size()) {
    unit = logs::unit_of_word(cells[*layout.unit]).value_or(unit);
  }
  add(logs::to_utf8(cells[layout.name], logs::Encoding::utf8), cells[layout.value], unit, at, out);
}

void TableLines::add(const std::string& channel, std::string_view cell, logs::ChannelUnit unit,
                     Moment at, std::vector<Reading>& out) {
  if (cell.empty() || channel.empty()) return;
  const auto reading = logs::reading_of(cell, shape_->decimal);
  if (reading.kind == logs::Reading::Kind::broken) {
    return refuse("cell of " + channel,
                  fmt::format("{}: {}", channel, logs::not_a_number(cell, logs::Encoding::utf8)));
  }
  if (reading.unit != logs::ChannelUnit::unknown) unit = reading.unit;
  if (unit == logs::ChannelUnit::unknown && !logs::names_no_temperature(channel) && hints_.unit) {
    unit = logs::unit_of_word(*hints_.unit).value_or(unit);
  }
  if (unit == logs::ChannelUnit::unknown && !logs::names_no_temperature(channel)) {
    refuse("unit of " + channel,
           fmt::format("{}: nothing says its unit; taken as degC (key 'unit')", shown(channel)));
  }
  const bool missing = reading.kind == logs::Reading::Kind::missing;
  const auto value =
      stored_value(missing ? std::numeric_limits<double>::quiet_NaN() : reading.value, unit);
  if (!value) {
    return refuse("value of " + channel,
                  fmt::format("{}: {} is nothing a thermometer shows", channel, reading.value));
  }
  out.push_back({channel, at, *value, true});
}

}  // namespace pitwright::feed
