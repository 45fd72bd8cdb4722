#include "sensors/thermometers.h"

#include <filesystem>
#include <fstream>
#include <map>
#include <string>

#include <gmock/gmock.h>
#include <gtest/gtest.h>
#include <unistd.h>

namespace pitwright::feed {
namespace {

namespace fs = std::filesystem;

/// A made-up /sys.
class Sys : public testing::Test {
 protected:
  ~Sys() override { fs::remove_all(root); }
  void put(const std::string& name, const std::string& text) const {
    fs::create_directories((root / name).parent_path());
    std::ofstream(root / name) << text;
  }
  std::map<std::string, std::string> shown() const {
    std::map<std::string, std::string> out;
    for (const auto& one : find_thermometers(root)) {
      const auto c = read_celsius(one);
      out[one.channel] = c ? std::to_string(*c).substr(0, 6) : c.error().what;
    }
    return out;
  }
  fs::path root = fs::temp_directory_path() / ("sys-" + std::to_string(::getpid()));
};

TEST_F(Sys, ShowsEveryKindOfThermometerAndABadOneStopsNoOther) {
  put("class/hwmon/hwmon0/name", "k10temp\n");
  put("class/hwmon/hwmon0/temp1_input", "42125\n");
  put("class/hwmon/hwmon0/temp1_label", "Tctl\n");
  put("class/hwmon/hwmon0/temp2_input", "rubbish\n");
  put("class/hwmon/hwmon0/fan1_input", "900\n");
  put("class/hwmon/hwmon1/name", "k10temp\n");
  put("class/hwmon/hwmon1/temp1_input", "-5500\n");
  put("class/hwmon/hwmon1/temp1_label", "Tctl\n");
  put("bus/iio/devices/iio:device0/name", "bmp280\n");
  put("bus/iio/devices/iio:device0/in_temp_input", "21430\n");
  put("bus/iio/devices/iio:device0/in_temp_raw", "99\n");
  put("bus/iio/devices/iio:device1/name", "max31855\n");
  put("bus/iio/devices/iio:device1/in_temp_raw", "430\n");
  put("bus/iio/devices/iio:device1/in_temp_scale", "250\n");
  put("bus/iio/devices/iio:device1/in_temp_ambient_raw", "400\n");
  put("bus/iio/devices/iio:device1/in_temp_ambient_scale", "62.500000\n");
  put("bus/iio/devices/iio:device2/name", "bare\n");
  put("bus/iio/devices/iio:device2/in_temp_raw", "400\n");
  put("bus/w1/devices/28-0000061/temperature", "23062\n");
  put("bus/w1/devices/28-0000062/w1_slave",
      "71 01 4b 46 7f ff 0c 10 56 : crc=56 YES\n71 01 4b 46 7f ff 0c 10 56 t=23062\n");
  put("bus/w1/devices/28-0000063/w1_slave",
      "ff ff ff ff ff ff ff ff ff : crc=c9 NO\nff ff ff ff ff ff ff ff ff t=-62\n");
  put("bus/w1/devices/28-0000064/temperature", "85000\n");
  put("bus/w1/devices/w1_bus_master1/w1_master_name", "x\n");
  const auto got = shown();
  EXPECT_EQ(got.size(), 11U);
  EXPECT_EQ(got.at("k10temp Tctl"), "42.125");
  EXPECT_EQ(got.at("k10temp Tctl #2"), "-5.500");
  EXPECT_THAT(got.at("k10temp temp2"), testing::HasSubstr("temp2_input: shows no number"));
  EXPECT_EQ(got.at("bmp280"), "21.430");
  EXPECT_EQ(got.at("max31855"), "107.50");
  EXPECT_EQ(got.at("max31855 temp_ambient"), "25.000");
  EXPECT_THAT(got.at("bare"), testing::HasSubstr("no scale"));
  EXPECT_EQ(got.at("28-0000061"), "23.062");
  EXPECT_EQ(got.at("28-0000062"), "23.062");
  EXPECT_THAT(got.at("28-0000063"), testing::HasSubstr("checksum"));
  EXPECT_THAT(got.at("28-0000064"), testing::HasSubstr("85 degC exactly"));
}

TEST_F(Sys, MayBeEmpty) {
  EXPECT_TRUE(find_thermometers(root).empty());
}

}  // namespace
}  // namespace pitwright::feed
