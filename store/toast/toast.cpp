#include "toast/toast.h"

#include <utility>

namespace pitwright::toast {
namespace {

void join_with(const ToastBurn& open, Toast& toast) {
  const auto& source = *toast.document.burn;
  auto joined =
      join(open.burn.pit, open.report.together,
           {source.setting, open.grate, source.left_m, source.front_m, open.burn.matters.kelvins()},
           toast.seen, toast.map);
  if (joined)
    toast.joined = *std::move(joined);
  else
    toast.not_joined = joined.error().what;
}

}  // namespace

Result<Toast> open_toast(ToastDocument document) {
  std::optional<ToastBurn> open;
  if (document.burn) {
    auto burn = open_toast_burn(*document.burn);
    if (!burn) return std::unexpected(burn.error());
    const auto spots = probes_of(*burn, *document.burn);
    if (!spots) return std::unexpected(spots.error());
    document.probes.insert(document.probes.end(), spots->begin(), spots->end());
    if (document.probes.size() > most_probes)
      return fail(ErrorKind::bad_input, "{}: more than {} probes with those of the burn",
                  document.path.string(), most_probes);
    open = *std::move(burn);
  }
  auto seen = photo::read_photo(document.photo, document.scene);
  if (!seen) return std::unexpected(seen.error());
  std::vector<browning::ToastSlice> slices;
  for (const auto& one : seen->slices)
    slices.push_back({one.x_m, one.y_m, one.side_m, one.color, one.lightness_sd, one.flaw});
  auto map = browning::map_toast(slices, document.probes, {document.limits, seen->untoasted});
  Toast toast{std::move(document), *std::move(seen), std::move(map), {}, {}};
  if (open) join_with(*open, toast);
  return toast;
}

}  // namespace pitwright::toast
