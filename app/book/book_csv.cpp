#include <fmt/format.h>

#include "book/figures.h"
#include "report/text_width.h"

namespace pitwright::book {
namespace {

/// A text cell: quoted, and with an apostrophe in front where a spreadsheet would take it for a
/// formula.
std::string cell(std::string_view text) {
  auto clean = report::clean_name(text);
  if (!clean.empty() && std::string_view("=+-@").find(clean[0]) != std::string_view::npos)
    clean.insert(0, "'");
  std::string out = "\"";
  for (const char c : clean) {
    if (c == '"') out += '"';
    out += c;
  }
  return out + "\"";
}

std::string number(const std::optional<double>& value) {
  return value ? fmt::format("{:.2f}", *value == 0.0 ? 0.0 : *value) : "";
}

}  // namespace

std::string book_csv(const Book& book) {
  std::string out = "piece,what,value,unit,limit,margin,verdict,rule,known,source,note\n";
  for (const auto& page : book.pieces) {
    for (const auto& figure : figures_of(book, page)) {
      const auto* rule = figure.rule;
      out += fmt::format(
          "{},{},{},{},{},{},{},{},{},{},{}\n", cell(page.piece.name), cell(figure.what),
          number(figure.value), figure.unit, number(figure.limit), number(figure.margin),
          cell(figure.verdict), cell(rule == nullptr ? "" : rule->name),
          cell(rule == nullptr ? "" : known_name(rule->source.known)),
          cell(rule == nullptr ? "" : source_text(rule->source)), cell(figure.words));
    }
    for (const auto& action : page.actions)
      out += fmt::format("{},{},,,,,,,,,{}\n", cell(page.piece.name), cell("Action"), cell(action));
    for (const auto& one : page.signatures)
      out += fmt::format("{},{},,,,,,,,,{}\n", cell(page.piece.name), cell("Signed"), cell(one.by));
  }
  for (const auto& caution : cautions(book.scale))
    out += fmt::format("{},{},,,,,,,,,{}\n", cell(""), cell("Care"), cell(caution));
  return out;
}

}  // namespace pitwright::book
