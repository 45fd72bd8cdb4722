#include "logs/sample.h"

#include <algorithm>
#include <map>

#include "logs/fields.h"
#include "logs/number.h"
#include "logs/stamps.h"
#include "logs/unit_words.h"
#include "logs/words.h"

namespace pitwright::logs {
namespace {

constexpr std::size_t most_records = 300;

std::vector<SampleRecord> records_of(std::string_view text, char delimiter) {
  std::vector<SampleRecord> records;
  Splitter splitter(delimiter);
  std::size_t at = 0;
  std::int64_t line = 1;
  while (at < text.size() && records.size() < most_records) {
    const auto record = text.substr(at, record_length(text.substr(at), delimiter));
    if (!trimmed(record).empty()) {
      const auto& cells = splitter.split(record);
      records.push_back({at, line, record, {cells.begin(), cells.end()}});
    }
    at += record.size();
    line += std::ranges::count(record, '\n');
  }
  return records;
}

std::size_t usual_length(std::span<const SampleRecord> records) {
  std::map<std::size_t, std::size_t> lengths;
  for (const auto& record : records) lengths[record.cells.size()] += 1;
  std::size_t usual = 0, most = 0;
  for (const auto& [length, count] : lengths) {
    if (length >= 2 && count >= most) {
      usual = length;
      most = count;
    }
  }
  return usual;
}

bool is_data(std::string_view cell, char decimal) {
  return number_of(cell, decimal) || is_missing_word(cell) || is_stamp(cell);
}

std::span<const SampleRecord> later_half(const std::vector<SampleRecord>& records) {
  return std::span(records).subspan(records.size() / 2);
}

/// Share of data among the cells of records of the usual length; 0 where cells are alone.
double score(const Sample& sample) {
  const auto later = later_half(sample.records);
  double sum = 0.0;
  for (const auto& record : later) {
    if (record.cells.size() != sample.cells) continue;
    const auto data = std::ranges::count_if(
        record.cells, [&](const std::string& cell) { return is_data(cell, sample.decimal); });
    sum += static_cast<double>(data) / static_cast<double>(record.cells.size());
  }
  return later.empty() ? 0.0 : sum / static_cast<double>(later.size());
}

}  // namespace

std::optional<NumberCell> number_of(std::string_view cell, char decimal) {
  const auto length = decimal_length(cell, decimal);
  if (length == 0) return std::nullopt;
  const auto value = parse_decimal(cell.substr(0, length), decimal);
  if (!value) return std::nullopt;
  if (length == cell.size()) return NumberCell{*value, ChannelUnit::unknown};
  const auto unit = unit_of_word(cell.substr(length));
  if (!unit) return std::nullopt;
  return NumberCell{*value, *unit};
}

std::optional<Sample> take_sample(std::string_view text, const Hints& hints) {
  std::optional<Sample> best;
  double best_score = 0.0;
  for (const char delimiter : {'\t', ';', ',', ' '}) {
    if (hints.delimiter && *hints.delimiter != delimiter) continue;
    Sample sample{delimiter, '.', records_of(text, delimiter), 0};
    sample.cells = usual_length(later_half(sample.records));
    if (sample.cells < 2) continue;
    for (const char decimal : {'.', ','}) {
      if (hints.decimal && *hints.decimal != decimal) continue;
      sample.decimal = decimal;
      const auto s = score(sample);
      if (best && s <= best_score + 1e-9) continue;
      best = sample;
      best_score = s;
    }
  }
  return best;
}

std::vector<const SampleRecord*> body_of(const Sample& sample) {
  std::vector<const SampleRecord*> body;
  for (const auto& record : later_half(sample.records)) {
    if (record.cells.size() == sample.cells) body.push_back(&record);
  }
  return body;
}

}  // namespace pitwright::logs
