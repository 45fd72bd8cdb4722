#include <cstdio>

#include <fmt/core.h>

#include "rollcall/burn_view.h"
#include "rollcall/roll_call_view.h"

// Prints what `pitwright rollcall --json` says of the example, of a bare roll call and of a burn in
// both units, each document ended by a NUL: rollcall_documents SOURCE_DIR.
namespace {

using namespace pitwright;

void print(const Result<documents::RollCallDocument>& document, Scale scale) {
  if (!document) return;
  const auto called = thermometer::hold(document->conditions, document->probes);
  fmt::print("{}", rollcall::roll_call_json({*document, called, scale}));
  std::putchar('\0');
}

void print(const Result<rollcall::BurnView>& view) {
  if (!view) return;
  fmt::print("{}", rollcall::burn_json(*view));
  std::putchar('\0');
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) return 2;
  const std::filesystem::path source(argv[1]);
  const auto example = source / "examples" / "rollcall" / "rollcall.toml";
  print(documents::read_roll_call(example), Scale::fahrenheit);
  print(documents::read_roll_call(example), Scale::celsius);
  print(documents::parse_roll_call("unit = \"C\"\n[boil]\npressure = \"850 hPa\"\n[[probe]]\n"
                                   "name = \"A\"\ncold = [20.1]\n",
                                   "bare.toml"),
        Scale::celsius);
  print(rollcall::view_of_burn(source / "examples" / "house-fire", {}));
  print(rollcall::view_of_burn(source / "examples" / "hopper-tray", Scale::celsius));
  return 0;
}
