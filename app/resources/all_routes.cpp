#include <array>

#include "resources/resources.h"

namespace pitwright::resources {

std::span<const Route> all_routes() {
  using access::Role;
  static constexpr std::array routes = {
      Route{"GET", "/api/burns", Role::look, false, get_burns},
      Route{"POST", "/api/burns", Role::own, true, post_burns},
      Route{"POST", "/api/demo", Role::own, true, post_demo},
      Route{"GET", "/api/burns/{burn}", Role::look, true, get_burn},
      Route{"PATCH", "/api/burns/{burn}", Role::own, true, patch_burn},
      Route{"GET", "/api/burns/{burn}/fire", Role::look, true, get_fire},
      Route{"GET", "/api/burns/{burn}/call", Role::look, true, get_call},
      Route{"GET", "/api/burns/{burn}/lay", Role::look, true, get_lay},
      Route{"GET", "/api/burns/{burn}/pictures/{picture}", Role::look, true, get_picture},
      Route{"GET", "/api/burns/{burn}/samples", Role::look, true, get_samples},
      Route{"POST", "/api/burns/{burn}/readings", Role::tap, false, post_readings},
      Route{"GET", "/api/burns/{burn}/taps", Role::look, false, get_taps},
      Route{"POST", "/api/burns/{burn}/taps", Role::tap, false, post_taps},
      Route{"POST", "/api/burns/{burn}/taps/{tap}/undo", Role::tap, false, post_undo},
      Route{"GET", "/api/burns/{burn}/live", Role::look, false, get_live},
      Route{"GET", "/api/burns/{burn}/sheet", Role::look, true, get_sheet},
      Route{"GET", "/api/burns/{burn}/book", Role::look, true, get_book},
      Route{"POST", "/api/burns/{burn}/book/entries", Role::tap, true, post_book},
      Route{"GET", "/api/rules", Role::look, false, get_rules},
      Route{"GET", "/api/pits", Role::look, false, get_pits},
      Route{"GET", "/api/pits/{pit}", Role::look, false, get_pit},
      Route{"PUT", "/api/pits/{pit}", Role::own, false, put_pit}};
  return routes;
}

}  // namespace pitwright::resources
