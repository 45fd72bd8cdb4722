#include <algorithm>
#include <array>
#include <limits>
#include <optional>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "logs/rows.h"
#include "logs/unit_words.h"
#include "logs/words.h"
#include "payload/payload.h"

namespace pitwright::feed {

using nlohmann::json;

namespace {

/// A value for people. Tables and lists are not written out: others choose how deep they go.
std::string brief(const json& value) {
  if (value.is_object()) return fmt::format("a table of {} members", value.size());
  if (value.is_array()) return fmt::format("a list of {}", value.size());
  return shown(value.dump(-1, ' ', false, json::error_handler_t::replace));
}

}  // namespace

/// Reads one JSON document for a PayloadReader.
class JsonPayload {
 public:
  JsonPayload(PayloadReader& reader, const json& document, std::string_view topic, Moment arrival,
              std::vector<Reading>& out)
      : reader_(reader),
        spec_(reader.spec_),
        document_(document),
        topic_(topic),
        arrival_(arrival),
        out_(out) {}

  void read() {
    const auto records = records_of();
    if (records.empty()) {
      reader_.refuse("records", fmt::format("nothing stands at \"{}\" in what came on '{}'",
                                            spec_.each ? spec_.each->text() : "", shown(topic_)));
    }
    for (const auto* one : records) record(*one);
  }

 private:
  static constexpr std::array<std::string_view, 6> time_names{"time", "timestamp", "ts",
                                                              "at",   "stamp",     "datetime"};

  std::vector<const json*> records_of() const {
    if (spec_.each) {
      const auto found = spec_.each->all(document_);
      if (found.size() == 1 && found.front()->is_array()) return elements(*found.front());
      return found;
    }
    const bool heap = document_.is_array() && !document_.empty() && document_.front().is_object();
    return heap ? elements(document_) : std::vector<const json*>{&document_};
  }

  static std::vector<const json*> elements(const json& array) {
    std::vector<const json*> all;
    for (const auto& one : array) all.push_back(&one);
    return all;
  }

  std::optional<Moment> moment_of(const json& value) const {
    if (value.is_number()) return StampReader::number(value.get<double>());
    if (value.is_string()) return reader_.stamps_.text(value.get_ref<const std::string&>());
    return std::nullopt;
  }

  /// Where the time stands: told, else a member whose name says so.
  const json* time_of(const json& record) const {
    if (spec_.time) {
      const auto* here = spec_.time->first(record);
      return here != nullptr ? here : spec_.time->first(document_);
    }
    for (const auto* from : {&record, &document_}) {
      if (!from->is_object()) continue;
      for (const auto& [name, value] : from->items()) {
        const auto low = logs::lowered(name);
        if (std::ranges::find(time_names, low) != time_names.end()) return &value;
      }
    }
    return nullptr;
  }

  void record(const json& record) {
    at_ = arrival_;
    stamped_ = false;
    time_ = time_of(record);
    if (time_ != nullptr) {
      const auto moment = moment_of(*time_);
      stamped_ = moment.has_value();
      if (moment) at_ = *moment;
      if (!moment) {
        reader_.refuse("time",
                       fmt::format("{} is no time; the time of arrival is taken", brief(*time_)));
      }
    } else if (spec_.time) {
      reader_.refuse("time", fmt::format("no time stands at \"{}\"; the time of arrival is taken",
                                         spec_.time->text()));
    }
    unit_ = unit_in(record);
    if (spec_.name || spec_.value) {
      one_reading(record);
    } else if (!spec_.channels.empty()) {
      listed(record);
    } else {
      members(record);
    }
  }

  static logs::ChannelUnit unit_in(const json& record) {
    if (!record.is_object()) return logs::ChannelUnit::unknown;
    for (const auto* key : {"unit", "units"}) {
      const auto found = record.find(key);
      if (found == record.end() || !found->is_string()) continue;
      return logs::unit_of_word(found->get_ref<const std::string&>())
          .value_or(logs::ChannelUnit::unknown);
    }
    return logs::ChannelUnit::unknown;
  }

  /// A number, a text that is one, or a word for "missing"; nullopt: something else.
  std::optional<logs::Reading> value_of(const json& value) const {
    using Kind = logs::Reading::Kind;
    if (value.is_number()) {
      const double number = value.get<double>();
      if (logs::is_missing_code(number)) return logs::Reading{};
      return logs::Reading{Kind::value, number, logs::ChannelUnit::unknown};
    }
    if (value.is_null()) return logs::Reading{};
    if (!value.is_string()) return std::nullopt;
    const auto reading = logs::reading_of(value.get_ref<const std::string&>(), '.');
    if (reading.kind == Kind::broken) return std::nullopt;
    return reading;
  }

  void add(std::string name, const logs::Reading& reading) {
    const bool missing = reading.kind == logs::Reading::Kind::missing;
    reader_.add(std::move(name), missing ? std::numeric_limits<double>::quiet_NaN() : reading.value,
                reading.unit == logs::ChannelUnit::unknown ? unit_ : reading.unit, at_, stamped_,
                out_);
  }

  void one_reading(const json& record) {
    const auto* name = spec_.name ? spec_.name->first(record) : nullptr;
    const auto* value = spec_.value ? spec_.value->first(record) : nullptr;
    std::string channel = filled(spec_.channel, topic_);
    if (name != nullptr) channel = name->is_string() ? name->get<std::string>() : brief(*name);
    if (channel.empty() && !spec_.name) channel = std::string(topic_);
    const auto reading = value != nullptr ? value_of(*value) : std::nullopt;
    if (channel.empty() || !reading) {
      reader_.refuse("record",
                     fmt::format("a record without {}: {}; left out",
                                 channel.empty() ? "a channel's name" : "a value", brief(record)));
      return;
    }
    add(std::move(channel), *reading);
  }

  void listed(const json& record) {
    for (const auto& channel : spec_.channels) {
      const auto* value = channel.at.first(record);
      if (value == nullptr) {
        reader_.refuse("place of " + channel.name,
                       fmt::format("nothing stands at \"{}\" for {} in {}", channel.at.text(),
                                   channel.name, brief(record)));
        continue;
      }
      if (const auto reading = value_of(*value)) {
        add(filled(channel.name, topic_), *reading);
      } else {
        reader_.refuse("value of " + channel.name,
                       fmt::format("{}: {} is not a number", channel.name, brief(*value)));
      }
    }
    others(record);
  }

  /// Numbers that no place was told for: named once.
  void others(const json& record) {
    if (!record.is_object()) return;
    for (const auto& [name, value] : record.items()) {
      if (!value.is_number() || &value == time_) continue;
      const bool known = std::ranges::any_of(spec_.channels, [&name = name](const auto& channel) {
        return channel.at.first_name() == name;
      });
      if (!known) {
        reader_.refuse(
            "unknown " + name,
            fmt::format("'{}' is a number that 'channels' does not name; left out", shown(name)));
      }
    }
  }

  /// Every number of a record is a channel under its own name.
  void members(const json& record) {
    if (record.is_array()) {
      for (std::size_t i = 0; i < record.size(); ++i) {
        if (const auto reading = value_of(record[i])) add(std::to_string(i + 1), *reading);
      }
      return;
    }
    if (!record.is_object()) {
      if (const auto reading = value_of(record)) {
        add(filled(spec_.channel.empty() ? "{topic}" : spec_.channel, topic_), *reading);
      } else {
        reader_.refuse("record", fmt::format("{} holds no reading; left out", brief(record)));
      }
      return;
    }
    for (const auto& [name, value] : record.items()) {
      if (&value == time_) continue;
      if (value.is_number() || value.is_null()) add(name, *value_of(value));
      if (!value.is_string()) continue;
      const auto reading = value_of(value);
      if (reading && reading->kind == logs::Reading::Kind::value) add(name, *reading);
    }
  }

  PayloadReader& reader_;
  const PayloadSpec& spec_;
  const json& document_;
  std::string_view topic_;
  Moment arrival_;
  std::vector<Reading>& out_;
  const json* time_ = nullptr;
  Moment at_;
  bool stamped_ = false;
  logs::ChannelUnit unit_ = logs::ChannelUnit::unknown;
};

bool PayloadReader::json(std::string_view text, std::string_view topic, Moment arrival,
                         std::vector<Reading>& out) {
  const auto document = nlohmann::json::parse(text, nullptr, false);
  if (document.is_discarded()) return false;
  JsonPayload(*this, document, topic, arrival, out).read();
  return true;
}

}  // namespace pitwright::feed
