#include "sheet/sheet_view.h"

#include "call/call.h"

namespace pitwright::sheet {

Result<SheetView> make_sheet(const Burn& burn, const SheetOptions& options) {
  SheetView view;
  view.options = options;
  view.scale = options.scale.value_or(burn.scale);
  view.burn = burn_to_show(burn, options.telling);
  auto report = call::make_call(view.burn);
  if (!report) return std::unexpected(report.error());
  view.report = *std::move(report);
  lay::LayOptions how;
  how.band_k = view.burn.matters.kelvins();
  auto lay = lay::make_lay(view.burn.pit, view.report.together, how);
  if (lay)
    view.lay = *std::move(lay);
  else
    view.no_lay = lay.error().what;
  if (options.removals) view.removals = single_removals(view.burn);
  return view;
}

}  // namespace pitwright::sheet
