#include "book/book.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "book/entries.h"
#include "documents/nearest.h"

namespace pitwright::book {
namespace {

/// What is wrong with the rules as they are written, in words.
std::vector<std::string> rule_problems(const safety::Chosen& chosen) {
  std::vector<std::string> names, problems;
  for (const auto& rule : safety::all_rules()) names.push_back(rule.name);
  for (const auto& wanted : chosen.unknown) {
    problems.push_back(fmt::format(
        "'{}' is not a rule that pitwright knows{}; 'pitwright book --rules' lists them", wanted,
        documents::suggestion(wanted, names)));
  }
  for (const auto& extra : chosen.twice) {
    problems.push_back(fmt::format(
        "'{}' is not used: a rule of its kind stands before it; keep the one that you go by",
        extra));
  }
  return problems;
}

/// The reading nearest to a usual done temperature, where correction and tolerance are told.
double told_at_c(const Probe& probe) {
  constexpr double done_c = 63.0;
  double best = done_c;
  double distance = 1e9;
  for (const double value : probe.readings.values) {
    if (std::isnan(value) || std::abs(value - done_c) >= distance) continue;
    distance = std::abs(value - done_c);
    best = value;
  }
  return best;
}

std::vector<Instrument> instruments_of(const Burn& burn, const std::vector<db::Record>& in_force) {
  std::vector<Instrument> all;
  for (const auto& probe : burn.probes) {
    if (probe.role != Role::food) continue;
    Instrument one{probe.channel, probe.piece, told_at_c(probe), 0.0, {}, probe.checked, {}};
    one.add_k = correction_k(probe, one.at_c);
    one.tolerance_k = uncertainty_k(probe, one.at_c);
    if (!probe.line.points.empty()) {
      one.from = probe.line.from;
      if (!one.checked) one.checked = probe.line.checked;
    }
    for (const auto& record : in_force) {
      const auto* check = std::get_if<db::Check>(&record.what);
      if (check == nullptr || check->channel != probe.channel) continue;
      const std::chrono::year_month_day day(std::chrono::floor<std::chrono::days>(check->at));
      if (one.checked && day < *one.checked) continue;
      one.checked = day;
      one.from = check->way;
    }
    all.push_back(std::move(one));
  }
  return all;
}

bool concerns(const Entry& entry, const std::string& piece) {
  return entry.stands() && (entry.what.piece.empty() || entry.what.piece == piece);
}

std::string signed_text(const Entry& entry) {
  return entry.record.by.empty() ? entry.what.text : entry.what.text + " (" + entry.record.by + ")";
}

Signature signature_of(const Entry& entry, const Told& told) {
  Signature out{entry.record.by, entry.what.piece, entry.what.text, entry.what.at, 0, false};
  const auto after = entry.record.sequence;
  out.later_entries = static_cast<int>(std::ranges::count_if(told.history, [&](const auto& record) {
    const auto* what = std::get_if<db::BookEntry>(&record.what);
    return record.sequence > after && (what == nullptr || what->what != "signature");
  }));
  out.later_samples = std::ranges::find(told.arrivals, after) != told.arrivals.end();
  return out;
}

void take_entries(const Book& book, const Told& told, PiecePage& page) {
  for (const auto& entry : book.entries) {
    if (!concerns(entry, page.piece.name)) continue;
    const auto& what = entry.what;
    if (what.what == "rule") page.piece.rule = what.text;
    if (what.what == "action") page.actions.push_back(signed_text(entry));
    if (what.what == "reading" && what.value) {
      const auto scale = what.unit == "F" ? Scale::fahrenheit : Scale::celsius;
      page.readings.push_back(
          {Temperature::from(*what.value, scale).celsius(), what.text, entry.record.by});
    }
    if (what.what == "signature") page.signatures.push_back(signature_of(entry, told));
  }
}

}  // namespace

Result<Book> make_book(const burns::OpenBurn& open, const std::optional<Told>& told, Scale scale) {
  const auto& burn = open.burn;
  if (burn.pieces.empty()) {
    return fail(ErrorKind::bad_input,
                "there is no piece of food in {}; a [[piece]] with name = \"shoulder 1\" and a "
                "[[probe]] with role = \"food\" and piece = \"shoulder 1\" make one",
                open.document.string());
  }
  Book book{burn, scale, told.has_value(), {}, {}, {}, {}};
  const Told none;
  const auto& known = told ? *told : none;
  book.entries = entries_of(known.history);
  book.changes = changes_of(known.history);
  book.instruments = instruments_of(burn, db::standing(known.history));
  for (const auto& piece : burn.pieces) {
    PiecePage page{piece, {}, {}, {}, {}, {}};
    if (!piece.action.empty()) page.actions.push_back(piece.action);
    take_entries(book, known, page);
    page.record = safety::record_of(burn, page.piece);
    page.rule_problems = rule_problems(page.record.chosen);
    book.pieces.push_back(std::move(page));
  }
  return book;
}

}  // namespace pitwright::book
