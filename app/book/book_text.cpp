#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "book/figures.h"
#include "documents/time_text.h"
#include "report/degrees.h"
#include "report/moments.h"
#include "report/text_table.h"
#include "report/text_width.h"

namespace pitwright::book {
namespace {

using report::clean_name;

constexpr int page_width = 80;

std::string hanging(std::string_view label, std::string_view text, int margin) {
  std::string out;
  for (const auto& line : report::wrapped(text, page_width - margin))
    out += report::padded_right(out.empty() ? label : "", margin) + line + "\n";
  return out;
}

std::string bullet(std::string_view text) {
  return hanging("  -", text, 4);
}

/// A label that is too long for its column stands on a line of its own.
std::string labeled(const std::string& label, std::string_view text) {
  constexpr int margin = 21;
  if (report::display_width(label) < margin) return hanging(label, text, margin);
  return report::shortened(label, page_width) + "\n" + hanging("", text, margin);
}

/// "2026-11-15 06:40" of an entry, on the burn's wall clock.
std::string written_text(const Book& book, db::Stamp at) {
  const BurnClock clock{Instant{}, book.burn.clock.timezone};
  const std::chrono::duration<double> since = at.time_since_epoch();
  auto text = documents::time_text(clock, since.count()).substr(0, 16);
  text[10] = ' ';
  return text;
}

std::string mass_text(double mass_kg, Scale scale) {
  constexpr double pound_kg = 0.45359237;
  return scale == Scale::celsius ? fmt::format("{:.1f} kg", mass_kg)
                                 : fmt::format("{:.1f} lb", mass_kg / pound_kg);
}

std::string head_of(const PiecePage& page, Scale scale) {
  auto head = clean_name(page.piece.name);
  if (!page.piece.cut.empty()) head += ", " + clean_name(page.piece.cut);
  if (page.piece.mass_kg) head += ", " + mass_text(*page.piece.mass_kg, scale);
  if (page.piece.intact) head += *page.piece.intact ? ", intact" : ", not intact";
  return head;
}

/// Every fifth row and the one that was met: temperature, time asked, time had, when.
std::string rows_text(const Book& book, const PiecePage& page) {
  const auto& cooked = page.record.cooked;
  if (cooked.rule == nullptr || cooked.rule->rows.size() < 5 || page.record.probes == 0) return "";
  std::vector<std::string> labels;
  report::Column asked{"asks", {}}, had{"had", {}}, met{"met at", {}};
  for (std::size_t i = 0; i < cooked.credited.rows.size(); ++i) {
    const auto& row = cooked.credited.rows[i];
    const bool fifth = static_cast<int>(row.row.at_f) % 5 == 0;
    if (!fifth && cooked.credited.met != i) continue;
    labels.push_back("    " + limit_text(row.row.at_f, book.scale));
    asked.cells.push_back(row.row.dwell_s <= 0.0 ? "two readings" : dwell_text(row.row.dwell_s));
    had.cells.push_back(report::duration_text(row.held_s));
    met.cells.push_back(row.met_s ? report::moment_text(book.burn, *row.met_s) : "–");
  }
  return report::table_text("    rows", labels, {asked, had, met}, page_width);
}

std::string notes_of(const Book& book, const PiecePage& page) {
  const auto& record = page.record;
  std::string out;
  for (const auto& problem : page.rule_problems)
    out += bullet(fmt::format("Of its rules {}.", clean_name(problem)));
  if (record.probes == 0) out += bullet("No probe sits in it; nothing is recorded.");
  if (record.unread_s >= 1.0)
    out +=
        bullet(fmt::format("{} without readings in all.", report::duration_text(record.unread_s)));
  if (record.unchecked)
    out += bullet(fmt::format("A probe that nobody checked: ±{} taken.",
                              report::limit_text(safety::unchecked_k, book.scale)));
  if (record.dropped > 0.0)
    out +=
        bullet(fmt::format("{:.0f} readings left out that no food can have; was a tip in the "
                           "air?",
                           record.dropped));
  return out;
}

std::string signatures_of(const Book& book, const PiecePage& page) {
  std::string out;
  for (const auto& action : page.actions) out += hanging("  Action", clean_name(action), 21);
  if (!page.piece.by.empty()) out += hanging("  Initials", clean_name(page.piece.by), 21);
  for (const auto& one : page.signatures) {
    auto text = fmt::format("{} at {}", clean_name(one.by), written_text(book, one.at));
    if (!one.text.empty()) text += ", " + clean_name(one.text);
    if (one.later_entries > 0)
      text += fmt::format("; {} {} came after it", one.later_entries,
                          one.later_entries == 1 ? "record" : "records");
    if (one.later_samples) text += "; readings came after it";
    out += hanging("  Signed", text, 21);
  }
  if (page.piece.by.empty() && page.signatures.empty())
    out += hanging("  Signed", "______________  (nobody yet)", 21);
  return out;
}

std::string piece_text(const Book& book, const PiecePage& page) {
  auto out = head_of(page, book.scale) + "\n";
  out +=
      hanging("  Rules", page.piece.rule.empty() ? "none chosen" : clean_name(page.piece.rule), 21);
  for (const auto& figure : figures_of(book, page)) {
    out += labeled("  " + figure.what, figure.words);
    if (figure.what == "Cooking") out += rows_text(book, page);
  }
  return out + notes_of(book, page) + signatures_of(book, page) + "\n";
}

std::string instruments_text(const Book& book) {
  if (book.instruments.empty()) return "";
  std::vector<std::string> labels;
  report::Column piece{"in", {}}, add{"added", {}}, tolerance{"tolerance", {}},
      checked{"checked", {}}, from{"by", {}};
  for (const auto& one : book.instruments) {
    const auto in = [&](double k) { return TemperatureDelta::from_kelvins(k).in(book.scale); };
    labels.push_back("  " + report::shortened(clean_name(one.channel), 16));
    piece.cells.push_back(report::shortened(clean_name(one.piece), 16));
    add.cells.push_back(report::number_text(in(one.add_k), 1, true));
    tolerance.cells.push_back(
        one.tolerance_k ? "±" + report::number_text(in(*one.tolerance_k), 1, false)
                        : "±" + report::number_text(in(safety::unchecked_k), 1, false) + " taken");
    checked.cells.push_back(one.checked ? date_text(*one.checked) : "never");
    from.cells.push_back(report::shortened(clean_name(one.from), 16));
  }
  return "Instruments\n" +
         report::table_text("  " + report::scale_mark(book.scale), labels,
                            {piece, add, tolerance, checked, from}, page_width) +
         "\n";
}

std::string value_text(const Book& book, const db::BookEntry& what) {
  if (!what.value) return "";
  const auto scale = what.unit == "F" ? Scale::fahrenheit : Scale::celsius;
  return degrees_text(Temperature::from(*what.value, scale).celsius(), book.scale) + " ";
}

std::string entries_text(const Book& book) {
  if (book.entries.empty() && book.changes.empty()) return "";
  std::string out = "Entries, none ever removed\n";
  for (const auto& entry : book.entries) {
    auto text = fmt::format("{} {}: {}{}", written_text(book, entry.record.written),
                            clean_name(entry.record.by), clean_name(entry.what.what),
                            entry.what.piece.empty() ? "" : " of " + clean_name(entry.what.piece));
    const auto value = value_text(book, entry.what) + clean_name(entry.what.text);
    if (!value.empty()) text += ", " + value;
    if (!entry.replaced_by.empty())
      text += fmt::format(" [corrected by entry {}; this was the old value]", entry.replaced_by);
    if (entry.is_taken_back) text += fmt::format(" [taken back: {}]", clean_name(entry.why));
    out += hanging(fmt::format("  {}.", entry.number), text, 6);
  }
  for (const auto& change : book.changes) {
    out += bullet(fmt::format("{} {}: {} was {}, now {}", written_text(book, change.written),
                              clean_name(change.by), clean_name(change.of), clean_name(change.was),
                              clean_name(change.now)));
  }
  return out + "\n";
}

std::string sources_text(const Book& book) {
  std::set<const safety::Rule*> used;
  std::string out;
  for (const auto& page : book.pieces) {
    for (const auto& figure : figures_of(book, page)) {
      if (figure.rule == nullptr || !used.insert(figure.rule).second) continue;
      out += bullet(fmt::format("{}: {}. {}.", figure.rule->name, figure.rule->title,
                                source_text(figure.rule->source)));
    }
  }
  return out.empty() ? "" : "Rules shown\n" + out + "\n";
}

}  // namespace

std::string book_text(const Book& book) {
  auto out = "The book: " + clean_name(book.burn.title) + "\n";
  const auto day = report::day_text(book.burn);
  if (!day.empty()) out += day + "\n";
  out += "\n";
  for (const auto& page : book.pieces) out += piece_text(book, page);
  out += instruments_text(book) + entries_text(book) + sources_text(book) + "Care\n";
  for (const auto& caution : cautions(book.scale)) out += bullet(caution);
  return out;
}

std::string rules_text() {
  std::string out = "Rules for rule = \"...\" of a piece, one of a kind, apart by commas\n";
  auto kind = safety::RuleKind::cooling;
  for (const auto& rule : safety::all_rules()) {
    if (rule.kind != kind) out += fmt::format("\n{}\n", name_of(rule.kind));
    kind = rule.kind;
    out +=
        hanging("  " + rule.name, fmt::format("{}. {}.", rule.title, source_text(rule.source)), 24);
  }
  return out + "\n" +
         hanging("",
                 "pitwright shows rule and margin. Your local code and your "
                 "inspector decide which rule holds.",
                 0);
}

}  // namespace pitwright::book
