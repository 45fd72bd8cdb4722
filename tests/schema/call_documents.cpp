#include <fmt/core.h>

#include "report/call_json.h"
#include "report/call_text.h"
#include "samples/sample_calls.h"

// Prints every sample call as JSON in both units, one document after the other, each ended by a
// NUL; with a sample's name instead its page: call_documents [NAME F|C [--explain]].
int main(int argc, char** argv) {
  using namespace pitwright;
  for (const auto& sample : samples::all_samples()) {
    if (argc > 2 && sample.name == argv[1]) {
      const auto scale = *argv[2] == 'C' ? Scale::celsius : Scale::fahrenheit;
      fmt::print("{}", report::call_text({sample.report, sample.burn, scale}, argc > 3));
    }
    for (const auto scale : {Scale::fahrenheit, Scale::celsius}) {
      if (argc == 1) {
        fmt::print("{}", report::call_json({sample.report, sample.burn, scale}));
        std::putchar('\0');
      }
    }
  }
  return 0;
}
