#include "access/people.h"

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstring>
#include <utility>

#include <fcntl.h>
#include <sys/stat.h>
#include <unistd.h>

#include "access/tokens.h"
#include "documents/table_reader.h"
#include "documents/toml.h"

namespace pitwright::access {
namespace {

const std::array<std::string, 3> role_names = {"look", "tap", "own"};

bool is_digest(std::string_view text) {
  return text.size() == 64 && text.find_first_not_of("0123456789abcdef") == std::string_view::npos;
}

Person person_of(documents::Reading& reading, const documents::Table& table) {
  documents::TableReader reader(reading, table, "[[person]]");
  Person person;
  person.name = reader.text("name").value_or("");
  if (const auto role = reader.word("role", role_names)) person.role = static_cast<Role>(*role);
  person.digest = reader.text("token_sha256").value_or("");
  reader.require("name", "name = \"Ann\"");
  reader.require("role", "role = \"tap\"");
  reader.require("token_sha256",
                 "token_sha256 = \"…\", which `pitwright serve --invite NAME` writes");
  if (!person.digest.empty() && !is_digest(person.digest))
    reader.wrong("token_sha256",
                 "expected 64 hexadecimal digits, as `pitwright serve --invite NAME` writes them");
  reader.finish();
  return person;
}

std::string toml_quoted(std::string_view text) {
  std::string toml = "\"";
  for (const char one : text) {
    if (one == '"' || one == '\\') toml += '\\';
    toml += one;
  }
  return toml + "\"";
}

bool has_control(std::string_view text) {
  return std::ranges::any_of(text, [](unsigned char c) { return c < 0x20 || c == 0x7f; });
}

/// Appends to a file that only its owner may read, and brings it to the disk.
Result<void> append_text(const std::filesystem::path& path, std::string_view text) {
  const int file =
      ::open(path.c_str(), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC, S_IRUSR | S_IWUSR);
  if (file < 0)
    return fail(ErrorKind::unavailable, "cannot write {}: {}", path.string(), std::strerror(errno));
  const bool written =
      ::write(file, text.data(), text.size()) == static_cast<ssize_t>(text.size()) &&
      ::fsync(file) == 0;
  const int reason = errno;
  ::close(file);
  if (!written)
    return fail(ErrorKind::unavailable, "cannot write {}: {}", path.string(),
                std::strerror(reason));
  return {};
}

}  // namespace

std::string_view name_of(Role role) {
  return role_names[static_cast<std::size_t>(role)];
}

Result<std::vector<Person>> read_people(const std::filesystem::path& path) {
  const auto table = documents::read_toml(path);
  if (!table) return std::unexpected(table.error());
  struct ::stat facts {};
  if (::stat(path.c_str(), &facts) == 0 && (facts.st_mode & (S_IRWXG | S_IRWXO)) != 0)
    return fail(ErrorKind::bad_input,
                "{}: others than its owner may read or write it; run `chmod 600 {}`", path.string(),
                path.string());
  documents::Reading reading{path.string(), {}, {}};
  documents::TableReader reader(reading, *table, "");
  std::vector<Person> people;
  for (const auto* one : reader.tables("person")) people.push_back(person_of(reading, *one));
  reader.finish();
  if (reading.mistake) return std::unexpected(*reading.mistake);
  for (auto one = people.begin(); one != people.end(); ++one)
    if (std::any_of(people.begin(), one,
                    [&](const Person& other) { return other.name == one->name; }))
      return fail(ErrorKind::bad_input, "{}: two people are called '{}'", path.string(), one->name);
  return people;
}

Result<std::string> invite(const std::filesystem::path& path, const std::string& name, Role role) {
  if (name.empty() || has_control(name))
    return fail(ErrorKind::bad_input, "a person needs a name of printable characters");
  std::error_code unreadable;
  if (std::filesystem::exists(path, unreadable)) {
    const auto people = read_people(path);
    if (!people) return std::unexpected(people.error());
    if (std::ranges::find(*people, name, &Person::name) != people->end())
      return fail(ErrorKind::conflict,
                  "{}: '{}' is there already; take that entry out to invite again", path.string(),
                  name);
  }
  auto token = new_token();
  const auto entry = fmt::format("\n[[person]]\nname = {}\nrole = \"{}\"\ntoken_sha256 = \"{}\"\n",
                                 toml_quoted(name), name_of(role), digest_of(token));
  if (auto written = append_text(path, entry); !written) return std::unexpected(written.error());
  return token;
}

}  // namespace pitwright::access
