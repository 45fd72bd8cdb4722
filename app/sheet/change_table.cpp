#include "sheet/change_table.h"

#include <fmt/format.h>

#include "report/call_words.h"
#include "report/degrees.h"
#include "report/text_width.h"
#include "sheet/html.h"

namespace pitwright::sheet {
namespace {

ChangeCell cell_of(const call::Change* change, Scale scale) {
  if (change == nullptr || !change->estimate) return {"–", ""};
  const auto shown = report::shown_difference(*change->estimate, scale);
  return {fmt::format("{} ({})", report::number_text(shown.value, shown.decimals, true),
                      report::range_text(shown)),
          change->word == call::Word::muddled ? "muddled" : report::word_cell(*change)};
}

std::string pair_head(const SheetView& view, std::pair<int, int> pair) {
  return report::setting_name(view.call(), pair.first) + " → " +
         report::setting_name(view.call(), pair.second);
}

std::string cell_markup(const ChangeCell& cell, std::size_t index) {
  const auto word = "w w-" + cell.word.substr(0, cell.word.find_first_of(" ,"));
  return wrap("td", fmt::format("data-cell=\"{}\"", index),
              element("span", "class=\"n\"", cell.number) +
                  element("span", "class=\"" + word + "\"", cell.word));
}

}  // namespace

std::vector<ChangeCell> change_cells(const SheetView& view, const call::Report& report) {
  std::vector<ChangeCell> cells;
  const auto& settings = view.report.settings;
  for (const auto& question : questions_of(view.report)) {
    const auto* quantity = same_question(report, question);
    for (const auto& [from, to] : pairs_of(view.report))
      cells.push_back(
          cell_of(change_named(report, quantity, settings[static_cast<std::size_t>(from)],
                               settings[static_cast<std::size_t>(to)]),
                  view.scale));
  }
  return cells;
}

std::string change_table(const SheetView& view) {
  const auto pairs = pairs_of(view.report);
  std::string head = element("th", "scope=\"col\"", "in " + report::scale_mark(view.scale));
  for (const auto& pair : pairs) head += element("th", "scope=\"col\"", pair_head(view, pair));
  auto rows = wrap("tr", "", head);
  const auto cells = change_cells(view, view.report);
  std::size_t index = 0;
  std::string heading;
  std::string body;
  const auto questions = questions_of(view.report);
  const auto last = questions.back().heading;  // of the spots, where there are any
  for (const auto& question : questions) {
    if (question.heading != heading) {
      heading = question.heading;
      body += wrap("tr", heading == last ? "class=\"group spot\"" : "class=\"group\"",
                   element("th", fmt::format("scope=\"colgroup\" colspan=\"{}\"", pairs.size() + 1),
                           heading));
    }
    std::string row = element("th", "scope=\"row\"", report::clean_name(question.name));
    for (std::size_t k = 0; k < pairs.size(); ++k, ++index) row += cell_markup(cells[index], index);
    body += wrap("tr", question.heading == last ? "class=\"spot\"" : "", row);
  }
  constexpr std::size_t crowd = 22;  // rows that paper has room for
  const auto classes = fmt::format("id=\"numbers\" class=\"{}{}\"", pairs.size() < 2 ? "one" : "",
                                   questions.size() > crowd ? " crowd" : "");
  return wrap("table", classes,
              element("caption", "", "Every change, with its 95 % range and its word") +
                  wrap("thead", "", rows) + wrap("tbody", "", body));
}

}  // namespace pitwright::sheet
