#include <cstdio>
#include <filesystem>

#include <fmt/core.h>

#include "toasted/toast_view.h"

// Prints what `pitwright toast --json` says of the photographs that ship, with probes and without,
// in both units, each document ended by a NUL: toast_documents SOURCE_DIR.
int main(int argc, char** argv) {
  using namespace pitwright;
  if (argc < 2) return 2;
  const std::filesystem::path root = argv[1];
  for (const auto* name : {"examples/kitchen-box/toast.toml", "data/toast/left-lamp.toml"}) {
    for (const bool with_probes : {true, false}) {
      auto document = toast::read_toast(root / name);
      if (!document) return 1;
      if (!with_probes) {
        document->probes.clear();
        document->burn.reset();
        document->slices.reset();
        document->scene.untoasted.reset();
        document->scene.light = photo::LightFrom::none;
      }
      const auto toast = toast::open_toast(*document);
      if (!toast) return 1;
      fmt::print("{}",
                 toasted::toast_json({*toast, with_probes ? Scale::fahrenheit : Scale::celsius}));
      std::putchar('\0');
    }
  }
  return 0;
}
