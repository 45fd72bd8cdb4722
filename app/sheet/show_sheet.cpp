#include "sheet/show_sheet.h"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "picture/svg.h"
#include "report/moments.h"
#include "report/sentence.h"
#include "sheet/change_table.h"
#include "sheet/facts.h"
#include "sheet/html.h"
#include "sheet/page_parts.h"
#include "sheet/pictures.h"
#include "sheet/readings_csv.h"
#include "sheet/sections.h"
#include "sheet/switches.h"
#include "sheet/words_moved.h"

namespace pitwright::sheet {
namespace {

/// What goes on paper beside the maps. The style shares out the room that the text leaves.
struct PaperPlan {
  bool lay = true;       ///< the maps; left out where they would be too small to read
  bool changes = false;  ///< the picture of changes; else the table
  bool strip = false;
};

/// Lines that a text takes in a column of the printed page.
double lines_of(std::size_t characters, double per_line) {
  return std::ceil(static_cast<double>(characters) / per_line);
}

double list_height(const std::vector<std::string>& texts, double per_line, double line_px) {
  double height = 0.0;
  constexpr std::size_t most = 3;  // .paper-cut hides the rest
  for (std::size_t k = 0; k < std::min(most, texts.size()); ++k)
    height += line_px * lines_of(texts[k].size(), per_line);
  return height;
}

/// Height of the printed text around the pictures [px], rather too large than too small.
double text_height(const SheetView& view) {
  constexpr double line = 11.0, heading = 21.0, half_page = 72.0;
  double height = 30.0 + 15.6 * lines_of(report::sentence(view.call()).size(), 116.0);
  double facts = 0.0;
  for (const auto& fact : facts_of(view))
    facts += line * lines_of(fact.label.size() + fact.text.size() + 2, 46.0) + 1.0;
  height += heading + 1.12 * facts / 3.0;
  const double left = heading + list_height(open_questions(view), half_page, line) + 2.0 * line +
                      list_height(removal_findings(view), half_page, line);
  const double right = heading + 5.0 * 1.3 * line + heading +
                       list_height(trouble_list(view), half_page, line) + 3.0 * line;
  return height + std::max(left, right) + 44.0;
}

/// The picture of changes where it and the maps stay readable, the strip where all three do.
PaperPlan paper_plan(const SheetView& view, const Figure& lay, const Figure& changes,
                     const Figure& strip) {
  constexpr double page = 982.0, readable = 0.68, roomy = 0.85, least = 0.4, row = 13.0;
  const double room = page - text_height(view);
  const double two = lay.height_px + changes.height_px;
  const bool with_changes = room >= readable * two;
  const double rows = std::min(22.0, static_cast<double>(questions_of(view.report).size())) + 5.0;
  const double for_lay = with_changes ? room : room - row * rows;
  return {for_lay >= least * lay.height_px, with_changes, room >= roomy * (two + strip.height_px)};
}

/// How much of the paper's room a picture gets.
std::string share_style(const Figure& figure) {
  return fmt::format("style=\"--share:{:.0f}\"", figure.height_px);
}

std::string header_of(const SheetView& view) {
  std::string facts;
  const auto add = [&](const std::string& fact) {
    if (!fact.empty()) facts += (facts.empty() ? "" : " · ") + fact;
  };
  add(cooker_text(view));
  add(report::day_text(view.burn));
  add(repeats_text(view));
  add(thermometers_text(view));
  add(outside_text(view));
  return wrap(
      "header", "",
      element("p", "class=\"kind\"", "Show sheet: what was tried, seen, and not yet known") +
          element("h1", "", heading_text(view)) + element("p", "class=\"facts\"", facts) +
          element("p", "class=\"sentence\" id=\"sentence\"", report::sentence(view.call())));
}

std::string section(std::string_view id, std::string_view attributes, std::string_view head,
                    std::string_view markup) {
  std::string inner = element("h2", fmt::format("id=\"{}-head\"", id), head);
  inner += markup;
  return wrap("section", fmt::format("id=\"{0}\" aria-labelledby=\"{0}-head\" {1}", id, attributes),
              inner);
}

std::string facts_markup(const SheetView& view) {
  std::string rows;
  for (const auto& fact : facts_of(view))
    rows += wrap("div", "", element("dt", "", fact.label) + element("dd", "", fact.text));
  return wrap("dl", "", rows);
}

std::string words_markup(const SheetView& view) {
  std::string rows;
  for (const auto& [word, meaning] : word_meanings(view))
    rows += "<li><b>" + picture::escaped(word) + "</b>: " + picture::escaped(meaning) + "</li>\n";
  return wrap("ul", "", rows) +
         element("p", "class=\"note\"",
                 "\"2 more\" after a word: two more stints would probably settle it. \"Over 12\": "
                 "probably none will.") +
         element("p", "class=\"note screen\"",
                 "The ranges printed beside the changes hold 95 % for each number on its own. The "
                 "words are read from wider ranges that hold for the whole table at once and "
                 "however often somebody looked.");
}

std::string cut_list(const std::vector<std::string>& texts) {
  std::string items;
  for (const auto& text : texts) items += element("li", "", text);
  return wrap("ul", "class=\"paper-cut\"", items);
}

std::string trouble_markup(const SheetView& view) {
  const auto troubles = trouble_list(view);
  if (troubles.empty()) return element("p", "", "None seen.");
  auto markup = cut_list(troubles);
  if (troubles.size() > 3)
    markup += element("p", "class=\"on-paper\"",
                      fmt::format("And {} more, on the screen.", troubles.size() - 3));
  return markup;
}

std::string mind_markup(const SheetView& view) {
  return element("h3", "", "Open questions") + cut_list(open_questions(view)) +
         element("h3", "", "Leaving one thing out") + cut_list(removal_findings(view)) +
         element("h3", "class=\"screen\"", "What this does not show") +
         wrap("div", "class=\"screen\"", list_of(limits_of(view)));
}

/// The same as an element's text; its line ends stay.
std::string escaped_lines(const std::string& text) {
  std::string out;
  for (const char c : text) out += c == '&' ? "&amp;" : c == '<' ? "&lt;" : std::string(1, c);
  return out;
}

std::string readings_markup(const SheetView& view) {
  const auto table = readings_of(view);
  const auto every = report::duration_text(table.step_s);
  const auto words = fmt::format(
      "{} rows, one every {}: the thermometers' readings as logged, no correction added{}.",
      table.rows, every, table.thinned ? "; readings in between are left out" : "");
  return element("p", "", words) +
         wrap("p", "",
              element("a", "id=\"get\" class=\"get\" download=\"readings.csv\" hidden",
                      "Save the readings (CSV)")) +
         wrap("details", "",
              element("summary", "", "Show them here, to copy") +
                  wrap("label", "for=\"readings\"", "Readings as comma-separated values") +
                  wrap("textarea", "id=\"readings\" readonly spellcheck=\"false\"",
                       escaped_lines(table.csv)));
}

}  // namespace

std::string show_sheet(const SheetView& view) {
  const auto lay = lay_figure(view), changes = changes_figure(view), strip = strip_figure(view);
  const auto plan = paper_plan(view, lay, changes, strip);
  const std::string screen = "class=\"screen\" ";
  auto pictures = section("lay-part", (plan.lay ? "" : screen) + share_style(lay),
                          "Where the heat lies", lay.markup);
  pictures += section("changes-part", (plan.changes ? "" : screen) + share_style(changes),
                      "What each change did", changes.markup);
  pictures += section("strip-part", (plan.strip ? "" : screen) + share_style(strip),
                      "The stints in order", strip.markup);
  auto main = wrap("div", "class=\"pictures\"", pictures);
  main += section("tested", "", "How it was tested", facts_markup(view));
  main += section("numbers-part", plan.changes ? screen : "", "The numbers",
                  switch_markup(view) + wrap("div",
                                             "class=\"scroll\" tabindex=\"0\" role=\"region\" "
                                             "aria-label=\"Table of every change\"",
                                             change_table(view)));
  main += wrap("div", "class=\"two\"",
               section("mind", "", "What would change our mind", mind_markup(view)) +
                   wrap("div", "",
                        section("words", "", "What the words mean", words_markup(view)) +
                            section("trouble", "", "Trouble", trouble_markup(view))));
  main += section("readings-part", "class=\"screen\"", "The readings", readings_markup(view));
  std::string foot;
  for (const auto& caution : cautions()) foot += element("p", "", caution);
  foot +=
      element("p", "class=\"on-paper\"",
              "Lists are cut to three lines on paper. All of them, the call without each spot and "
              "each stint, and the readings are in the file this was printed from.");
  foot += element("p", "",
                  "Made by pitwright from the logs of the burn. Every number is worked out from "
                  "them; nothing was drawn by hand.");
  const std::string inline_only = "'unsafe-inline'";
  const std::string head =
      "<meta charset=\"utf-8\">\n"
      "<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n"
      "<meta http-equiv=\"Content-Security-Policy\" content=\"default-src 'none'; style-src " +
      inline_only + "; script-src " + inline_only +
      "\">\n"
      "<meta name=\"referrer\" content=\"no-referrer\">\n" +
      element("title", "", heading_text(view)) + wrap("style", "", page_style());
  return "<!DOCTYPE html>\n" +
         wrap("html", "lang=\"en\"",
              wrap("head", "", head) +
                  wrap("body", "",
                       header_of(view) + wrap("main", "", main) + wrap("footer", "", foot) +
                           wrap("script", "id=\"calls\" type=\"application/json\"",
                                switch_data(view)) +
                           wrap("script", "", page_script())));
}

}  // namespace pitwright::sheet
