#include "understood/understood.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "burns/assemble.h"
#include "burns/channel_units.h"
#include "burns/channels.h"
#include "burns/read_document.h"
#include "documents/time_text.h"

namespace pitwright::understood {
namespace {

ChannelView channel_view(const logs::LogChannel& channel) {
  ChannelView view;
  view.name = channel.name;
  view.unit = burns::name_of(channel.unit);
  view.unit_source = channel.unit_from_file                       ? UnitSource::file
                     : channel.unit == logs::ChannelUnit::unknown ? UnitSource::nobody
                                                                  : UnitSource::told;
  view.readings =
      std::ranges::count_if(channel.values, [](double value) { return std::isfinite(value); });
  view.missing = channel.missing;
  return view;
}

LogView log_view(const logs::Log& log, std::string file) {
  LogView view;
  view.file = std::move(file);
  view.elapsed = log.stamps == logs::Stamps::elapsed;
  view.rows = log.rows;
  view.rows_skipped = log.rows_skipped;
  view.skipped_total = log.skipped_total;
  view.duplicates = log.duplicates;
  view.out_of_order = log.out_of_order;
  view.interval_s = log.interval_s;
  view.skipped = log.skipped;
  view.understood = log.understood;
  for (const auto& channel : log.channels) view.channels.push_back(channel_view(channel));
  return view;
}

/// First and last stamp on the log's own clock.
void put_own_range(const logs::Log& log, const std::string& timezone, LogView& view) {
  const auto range = burns::stamp_range(log);
  if (!range) return;
  BurnClock clock{{}, timezone};
  if (!view.elapsed) clock.zero = Instant(std::chrono::milliseconds(0));
  view.first = documents::time_text(clock, static_cast<double>(range->first_ms) / 1000.0);
  view.last = documents::time_text(clock, static_cast<double>(range->last_ms) / 1000.0);
}

void put_clocks(const burns::Clocks& clocks, const std::vector<logs::Log>& logs, View& view) {
  for (std::size_t l = 0; l < logs.size(); ++l) {
    const auto range = burns::stamp_range(logs[l]);
    view.logs[l].clock = clocks.logs[l];
    if (!range) continue;
    view.logs[l].first =
        documents::time_text(clocks.clock, clocks.logs[l].seconds(range->first_ms));
    view.logs[l].last = documents::time_text(clocks.clock, clocks.logs[l].seconds(range->last_ms));
  }
}

/// Units that nobody had told and the burn's unit stood in for.
void put_taken_units(const std::vector<logs::Log>& logs, View& view) {
  for (std::size_t l = 0; l < logs.size(); ++l) {
    for (std::size_t c = 0; c < logs[l].channels.size(); ++c) {
      auto& channel = view.logs[l].channels[c];
      if (channel.unit_source != UnitSource::nobody ||
          logs[l].channels[c].unit == logs::ChannelUnit::unknown) {
        continue;
      }
      channel.unit = burns::name_of(logs[l].channels[c].unit);
      channel.unit_source = UnitSource::burn;
    }
  }
}

}  // namespace

std::string_view name_of(UnitSource source) {
  switch (source) {
    case UnitSource::file:
      return "file";
    case UnitSource::told:
      return "told";
    case UnitSource::burn:
      return "burn";
    case UnitSource::nobody:
      return "nobody";
  }
  std::unreachable();
}

Result<View> of_burn(const std::filesystem::path& path) {
  const auto file = burns::document_path(path);
  if (!file) return std::unexpected(file.error());
  const auto document = documents::read_burn(*file);
  if (!document) return std::unexpected(document.error());
  auto logs = burns::read_logs(*document);
  if (!logs) return std::unexpected(logs.error());
  View view;
  view.burn = document->title.empty() ? file->string() : document->title;
  view.unit = document->unit;
  view.timezone = document->timezone;
  for (std::size_t l = 0; l < logs->size(); ++l) {
    view.logs.push_back(log_view((*logs)[l], document->logs[l].file));
    put_own_range((*logs)[l], document->timezone, view.logs.back());
  }
  const auto clocks = burns::put_clocks_together(*document, *logs);
  if (!clocks) {
    view.mistake = clocks.error();
    return view;
  }
  put_clocks(*clocks, *logs, view);
  const auto made = burns::assemble(*document, *logs, *clocks);
  if (!made) {
    view.assumed = clocks->assumed;
    view.mistake = made.error();
    return view;
  }
  put_taken_units(*logs, view);
  view.burn = made->burn.title;
  view.unit = made->burn.scale;
  view.assumed = made->assumed;
  return view;
}

Result<View> of_files(std::span<const std::filesystem::path> paths, const logs::Hints& hints) {
  View view;
  view.timezone = hints.timezone;
  for (const auto& path : paths) {
    const auto log = logs::read_log(path, hints);
    if (!log) return std::unexpected(log.error());
    view.logs.push_back(log_view(*log, path.string()));
    put_own_range(*log, hints.timezone, view.logs.back());
  }
  view.burn = paths.empty() ? "" : paths.front().filename().string();
  return view;
}

}  // namespace pitwright::understood
