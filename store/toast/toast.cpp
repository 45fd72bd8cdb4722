#include "toast/toast.h"

#include <utility>

namespace pitwright::toast {

Result<Toast> open_toast(ToastDocument document) {
  if (document.burn) {
    const auto spots = probes_of_burn(*document.burn);
    if (!spots) return std::unexpected(spots.error());
    document.probes.insert(document.probes.end(), spots->begin(), spots->end());
    if (document.probes.size() > most_probes)
      return fail(ErrorKind::bad_input, "{}: more than {} probes with those of the burn",
                  document.path.string(), most_probes);
  }
  auto seen = photo::read_photo(document.photo, document.scene);
  if (!seen) return std::unexpected(seen.error());
  std::vector<browning::ToastSlice> slices;
  for (const auto& one : seen->slices)
    slices.push_back({one.x_m, one.y_m, one.side_m, one.color, one.lightness_sd, one.flaw});
  auto map = browning::map_toast(slices, document.probes, {document.limits, seen->untoasted});
  return Toast{std::move(document), *std::move(seen), std::move(map)};
}

}  // namespace pitwright::toast
