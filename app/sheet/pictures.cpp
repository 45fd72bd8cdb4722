#include "sheet/pictures.h"

#include "mapped/lay_maps.h"
#include "mapped/lay_view.h"
#include "mapped/lay_words.h"
#include "picture/changes_picture.h"
#include "picture/lay_picture.h"
#include "picture/strip_picture.h"
#include "sheet/html.h"

namespace pitwright::sheet {
namespace {

using picture::Head;
using picture::Page;
using picture::Picture;

Figure figure_of(const std::string& id, const Picture& page, const Picture& phone,
                 const std::string& caption) {
  return {wrap("figure", "id=\"" + id + "\"",
               wrap("div", "class=\"on-page\"", page.svg) +
                   wrap("div", "class=\"on-phone\"", phone.svg) +
                   (caption.empty() ? "" : element("figcaption", "", caption))),
          page.height};
}

}  // namespace

Figure lay_figure(const SheetView& view) {
  if (!view.lay) {
    const auto text = "No map: " + view.no_lay + ".";
    return {element("p", "class=\"no-map\"", text), 30.0};
  }
  const auto call = view.call();
  const auto mapped = mapped::view_of(call, *view.lay, {});
  if (!mapped) return {element("p", "class=\"no-map\"", mapped.error().what), 30.0};
  const auto lay = mapped::picture_of(*mapped);
  return figure_of("lay-figure", draw_lay(lay, Page::column, "lay", Head::left_out),
                   draw_lay(lay, Page::narrow, "lay-phone", Head::left_out),
                   lay.sentence +
                       " Numbers: how far each thermometer ran from the level, the mean over the "
                       "spots. The colors between them are the likeliest map.");
}

Figure changes_figure(const SheetView& view) {
  const auto call = view.call();
  return figure_of("changes-figure", draw_changes(call, Page::column, "changes", Head::left_out),
                   draw_changes(call, Page::narrow, "changes-phone", Head::left_out), "");
}

Figure strip_figure(const SheetView& view) {
  const auto strip = picture::strip_of(view.call());
  return figure_of("strip-figure", draw_strip(strip, Page::column, "strip", Head::left_out),
                   draw_strip(strip, Page::narrow, "strip-phone", Head::left_out), "");
}

}  // namespace pitwright::sheet
