#include <cstdio>
#include <string>

#include <fmt/core.h>

#include "burns/open_burn.h"
#include "call/call.h"
#include "mapped/lay_json.h"

// Prints what `pitwright lay --json` says of the examples, on a coarse lattice, each document ended
// by a NUL.
namespace {

using namespace pitwright;

int print(const std::string& example, Scale scale, const mapped::LayWishes& wishes) {
  const auto open = burns::open_burn(PITWRIGHT_SOURCE_DIR "/examples/" + example);
  if (!open) return 1;
  const auto made = call::make_call(open->burn, {.as_known_at_s = {}, .needs_stints = false});
  if (!made) return 1;
  lay::LayOptions options;
  options.nodes_x = 4;
  options.nodes_y = 3;
  const auto lay = lay::make_lay(open->burn.pit, made->together, options);
  if (!lay) return 1;
  const auto view = mapped::view_of({*made, open->burn, scale}, *lay, wishes);
  if (!view) return 1;
  fmt::print("{}", mapped::lay_json(*view));
  std::putchar('\0');
  return 0;
}

}  // namespace

int main() {
  mapped::LayWishes wishes;
  int failed = print("clay-pot", Scale::celsius, wishes);
  wishes.places = {{0.3, 0.2, "main"}};
  wishes.wanted_c = 121.0;
  wishes.outside_c = 5.0;
  failed += print("hopper-tray", Scale::fahrenheit, wishes);
  wishes.places.clear();
  failed += print("long-barrel", Scale::celsius, wishes);
  return failed;
}
