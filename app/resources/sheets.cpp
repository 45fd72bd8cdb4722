#include "http/replies.h"
#include "resources/asking.h"
#include "resources/resources.h"
#include "sheet/show_sheet.h"

namespace pitwright::resources {
namespace {

/// A page with a script of its own, made for files: shut into a box that reaches nothing of this
/// server's origin (Content Security Policy Level 3, directive "sandbox").
constexpr std::string_view boxed =
    "sandbox allow-scripts allow-downloads; default-src 'none'; script-src 'unsafe-inline'; "
    "style-src 'unsafe-inline'; img-src data: blob:; base-uri 'none'; form-action 'none'; "
    "frame-ancestors 'none'";

}  // namespace

wire::Answer get_sheet(const Asked& asked) {
  const auto standing = asked_burn(asked);
  if (!standing) return http::trouble(standing.error());
  sheet::SheetOptions options;
  const auto scale = asked_scale(asked, standing->line.scale);
  if (!scale) return http::trouble(scale.error());
  options.scale = *scale;
  const auto view = sheet::make_sheet(*standing->burn, options);
  if (!view) return http::trouble(view.error());
  return wire::Response{200,
                        "text/html; charset=utf-8",
                        sheet::show_sheet(*view),
                        {{"Content-Security-Policy", std::string(boxed)}}};
}

}  // namespace pitwright::resources
