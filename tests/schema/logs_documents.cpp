#include <filesystem>
#include <fstream>
#include <vector>

#include <fmt/core.h>

#include "understood/understood.h"

// Prints what `pitwright logs --json` says of burns and logs written for it into a directory, each
// document ended by a NUL: logs_documents DIRECTORY.
namespace {

namespace fs = std::filesystem;

void write(const fs::path& path, const char* text) {
  std::ofstream(path, std::ios::binary) << text;
}

void print(const pitwright::Result<pitwright::understood::View>& view) {
  if (!view) return;
  fmt::print("{}", pitwright::understood::json_of(*view));
  std::putchar('\0');
}

}  // namespace

int main(int argc, char** argv) {
  if (argc < 2) return 2;
  const fs::path root(argv[1]);
  fs::create_directories(root);
  write(root / "a.csv",
        "Time,Left (F),Wind (mph)\n2026-05-02T12:00:00,250,3\n2026-05-02T12:01:00,warm,4\n"
        "2026-05-02T12:02:00,252,5\n");
  write(root / "b.csv", "elapsed,B1\n0:00:00,120\n0:01:00,121\n0:02:00,122\n");
  write(root / "burn.toml",
        "unit = \"F\"\nlogs = [\"a.csv\", \"b.csv\"]\n[[log]]\nfile = \"b.csv\"\nunit = \"C\"\n"
        "zero = 2026-05-02T12:00:00\noffset = \"5 s\"\n[[probe]]\nchannel = \"Left (F)\"\n"
        "[[stint]]\nsetting = \"A\"\n");
  write(
      root / "mistaken.toml",
      "unit = \"F\"\nlogs = [\"a.csv\", \"b.csv\"]\n[[probe]]\nchannel = \"Left (F)\"\n[[stint]]\n"
      "setting = \"A\"\n");
  print(pitwright::understood::of_burn(root));
  print(pitwright::understood::of_burn(root / "mistaken.toml"));
  const std::vector files{root / "a.csv", root / "b.csv"};
  print(pitwright::understood::of_files(files, {}));
  return 0;
}
