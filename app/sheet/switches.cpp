#include "sheet/switches.h"

#include <fmt/format.h>

#include "report/sentence.h"
#include "report/text_width.h"
#include "report/trouble_words.h"
#include "sheet/change_table.h"
#include "sheet/html.h"
#include "sheet/sections.h"

namespace pitwright::sheet {
namespace {

std::string choice(int index, const std::string& words) {
  return wrap("label", "",
              fmt::format("<input type=\"radio\" name=\"without\" value=\"{}\"{}> ", index,
                          index < 0 ? " checked" : "") +
                  element("span", "", words));
}

std::string strings_json(const std::vector<std::string>& texts) {
  std::string json = "[";
  for (const auto& text : texts) json += (json.size() > 1 ? "," : "") + script_string(text);
  return json + "]";
}

std::string state_json(const SheetView& view, const call::Report& report, const std::string& name,
                       const std::vector<std::string>& moved) {
  const report::CallView told{report, view.burn, view.scale};
  std::vector<std::string> cells, troubles;
  for (const auto& cell : change_cells(view, report)) {
    cells.push_back(cell.number);
    cells.push_back(cell.word);
  }
  for (const auto& trouble : report.troubles)
    troubles.push_back(report::trouble_text(trouble, view.burn, view.scale));
  return fmt::format("{{\"name\":{},\"sentence\":{},\"cells\":{},\"moved\":{},\"trouble\":{}}}",
                     script_string(name), script_string(report::sentence(told)),
                     strings_json(cells), strings_json(moved), strings_json(troubles));
}

std::string failed_json(const std::string& name, const std::string& why, std::size_t cells) {
  std::vector<std::string> none;
  for (std::size_t k = 0; k < cells; ++k) {
    none.emplace_back("–");
    none.emplace_back("");
  }
  return fmt::format("{{\"name\":{},\"sentence\":{},\"cells\":{},\"moved\":[],\"trouble\":[]}}",
                     script_string(name), script_string("No call can be made: " + why + "."),
                     strings_json(none));
}

}  // namespace

std::string switch_markup(const SheetView& view) {
  std::string spots, stints;
  for (int k = 0; k < std::ssize(view.removals); ++k) {
    const auto& removal = view.removals[static_cast<std::size_t>(k)];
    (removal.kind == Removal::Kind::spot ? spots : stints) +=
        choice(k, removal_name(view, removal));
  }
  auto markup = element("legend", "", "Leave out one, and see what stands") +
                wrap("div", "class=\"choices\"", choice(-1, "nothing: all of it counts"));
  if (!spots.empty())
    markup += wrap("div", "class=\"choices\"",
                   element("span", "class=\"of\"", "a thermometer spot") + spots);
  if (!stints.empty())
    markup += wrap("div", "class=\"choices\"", element("span", "class=\"of\"", "a stint") + stints);
  markup += element("p", "class=\"note\"",
                    "The sentence, numbers and words below are then those of what is left, as the "
                    "engine calls it. The pictures stay those of everything.");
  return wrap("fieldset", "id=\"switches\" class=\"screen\" hidden", markup) +
         wrap("div", "id=\"told\" role=\"status\"", "");
}

std::string switch_data(const SheetView& view) {
  auto json = "{\"whole\":" + state_json(view, view.report, "", {}) + ",\"removals\":[";
  const auto cells = change_cells(view, view.report).size();
  bool first = true;
  for (const auto& removal : view.removals) {
    json += first ? "\n" : ",\n";
    first = false;
    const auto name = removal_name(view, removal);
    json += removal.report ? state_json(view, *removal.report, name, moved_texts(view, removal))
                           : failed_json(name, removal.report.error().what, cells);
  }
  return json + "]}";
}

}  // namespace pitwright::sheet
