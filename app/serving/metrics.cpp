#include "serving/metrics.h"

#include <fstream>
#include <string_view>

#include <fmt/format.h>
#include <unistd.h>

namespace pitwright::serving {
namespace {

void add(std::string& text, std::string_view name, std::string_view type, std::string_view help,
         double value) {
  const auto suffix = type == "counter" ? "_total" : "";
  text +=
      fmt::format("# TYPE {0} {1}\n# HELP {0} {2}\n{0}{3} {4}\n", name, type, help, suffix, value);
}

/// Bytes of this process in memory; 0 where /proc does not tell.
double resident_bytes() {
  std::ifstream statm("/proc/self/statm");
  double pages = 0.0;
  double resident = 0.0;
  statm >> pages >> resident;
  return resident * static_cast<double>(::sysconf(_SC_PAGESIZE));
}

}  // namespace

std::string metrics_text(const wire::ServerCounts& counts, bool store_answers) {
  std::string text;
  add(text, "pitwright_requests", "counter", "Requests read.",
      static_cast<double>(counts.requests));
  add(text, "pitwright_refused", "counter",
      "Connections and requests refused before a resource was reached.",
      static_cast<double>(counts.refused));
  add(text, "pitwright_lost_backlogs", "counter",
      "Times a viewer was too slow and lost its backlog.",
      static_cast<double>(counts.lost_backlogs));
  add(text, "pitwright_connections", "gauge", "Connections open now.",
      static_cast<double>(counts.connections));
  add(text, "pitwright_viewers", "gauge", "Event streams open now.",
      static_cast<double>(counts.viewers));
  add(text, "pitwright_store_answers", "gauge", "1 where the store answered at the last look.",
      store_answers ? 1.0 : 0.0);
  add(text, "process_resident_memory_bytes", "gauge", "Memory of this process.", resident_bytes());
  return text + "# EOF\n";
}

}  // namespace pitwright::serving
