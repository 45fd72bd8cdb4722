#include <algorithm>

#include "http/replies.h"
#include "lay/lay.h"
#include "mapped/lay_json.h"
#include "mapped/lay_maps.h"
#include "picture/changes_picture.h"
#include "picture/render.h"
#include "picture/strip_picture.h"
#include "resources/asked_call.h"
#include "resources/resources.h"
#include "units/parse.h"

namespace pitwright::resources {
namespace {

using http::json_reply;
using http::trouble;

/// The lay of a call. Fails: as the call or the lay does.
Result<std::shared_ptr<const lay::Lay>> worked_lay(const Asked& asked, const AskedCall& work) {
  if (!work.call->made) return std::unexpected(work.call->made.error());
  return asked.desk.worked.lay(*work.call);
}

/// What ?x=, ?y=, ?grate= and ?wanted= ask. Fails: bad_input.
Result<mapped::LayWishes> wishes_of(const Asked& asked) {
  mapped::LayWishes wishes;
  const auto x = asked_number(asked, "x");
  const auto y = asked_number(asked, "y");
  if (!x) return std::unexpected(x.error());
  if (!y) return std::unexpected(y.error());
  if (x->has_value() != y->has_value())
    return fail(ErrorKind::bad_input, "a place needs both x and y");
  if (*x)
    wishes.places.push_back({**x, **y, wire::query_value(asked.request, "grate").value_or("")});
  if (const auto text = wire::query_value(asked.request, "wanted")) {
    const auto wanted = parse_temperature(*text, std::nullopt);
    if (!wanted) return fail(ErrorKind::bad_input, "wanted: {}", wanted.error().what);
    wishes.wanted_c = wanted->celsius();
  }
  return wishes;
}

/// Leaves only what ?from=, ?to= and ?grate= ask for. Fails: bad_input where they name nothing.
Result<void> narrow_down(const Asked& asked, picture::LayPicture& drawn) {
  const auto from = wire::query_value(asked.request, "from");
  const auto to = wire::query_value(asked.request, "to");
  if (from || to) {
    const auto is_wanted = [&](const picture::LaySheet& sheet) {
      return (from && sheet.head == *from) || (to && sheet.head == *to);
    };
    std::erase_if(drawn.settings, [&](const auto& sheet) { return !is_wanted(sheet); });
    const auto pair = from && to ? *from + " → " + *to : std::string();
    std::erase_if(drawn.differences, [&](const auto& sheet) { return sheet.head != pair; });
    if (drawn.settings.empty())
      return fail(ErrorKind::bad_input, "from and to: this lay has no such setting");
  }
  if (const auto grate = wire::query_value(asked.request, "grate")) {
    for (auto* sheets : {&drawn.settings, &drawn.differences})
      for (auto& sheet : *sheets)
        std::erase_if(sheet.grates, [&](const auto& map) { return map.grate != *grate; });
    if (drawn.settings.front().grates.empty())
      return fail(ErrorKind::bad_input, "grate: this lay has no grate '{}'", *grate);
  }
  return {};
}

Result<picture::Picture> lay_picture(const Asked& asked, const AskedCall& work,
                                     picture::Page page) {
  const auto lay = worked_lay(asked, work);
  if (!lay) return std::unexpected(lay.error());
  const auto view = mapped::view_of(work.view(), **lay, {});
  if (!view) return std::unexpected(view.error());
  auto drawn = mapped::picture_of(*view);
  if (auto narrowed = narrow_down(asked, drawn); !narrowed)
    return std::unexpected(narrowed.error());
  return picture::draw_lay(drawn, page);
}

Result<picture::Picture> drawn(const Asked& asked, const AskedCall& work, picture::Page page) {
  const auto& which = asked.names.at("picture");
  if (which == "lay.svg" || which == "share.png") return lay_picture(asked, work, page);
  if (!work.call->made) return std::unexpected(work.call->made.error());
  if (which == "call.svg") return picture::draw_changes(work.view(), page);
  if (which == "strip.svg") return picture::draw_strip(picture::strip_of(work.view()), page);
  return fail(ErrorKind::not_found,
              "the pictures are lay.svg, call.svg, strip.svg and share.png, not '{}'", which);
}

}  // namespace

wire::Answer get_lay(const Asked& asked) {
  const auto work = worked_call(asked);
  if (!work) return trouble(work.error());
  const auto lay = worked_lay(asked, *work);
  if (!lay) return trouble(lay.error());
  const auto wishes = wishes_of(asked);
  if (!wishes) return trouble(wishes.error());
  const auto view = mapped::view_of(work->view(), **lay, *wishes);
  if (!view) return trouble(view.error());
  return json_reply(mapped::lay_json(*view));
}

wire::Answer get_picture(const Asked& asked) {
  const auto work = worked_call(asked);
  if (!work) return trouble(work.error());
  const bool is_narrow = wire::query_value(asked.request, "width") == "narrow";
  const auto picture = drawn(asked, *work, is_narrow ? picture::Page::narrow : picture::Page::wide);
  if (!picture) return trouble(picture.error());
  if (asked.names.at("picture").ends_with(".svg"))
    return wire::Response{200, "image/svg+xml", picture->svg, {}};
  auto png = picture::png_of(*picture);
  if (!png) return trouble(png.error());
  return wire::Response{200, "image/png", std::move(*png), {}};
}

}  // namespace pitwright::resources
