#pragma once

#include <array>
#include <string_view>

#include "rehearse/plan.h"
#include "rehearse/scenarios.h"

namespace pitwright::rehearsal {

/// One number of the [rehearse] table: its key, which ends in its SI unit, and where it lives.
template <typename T>
struct Field {
  std::string_view key;
  double T::*member;
};

using rehearse::Body;
using rehearse::ColdLoad;
using rehearse::Disturbance;
using rehearse::Fire;
using rehearse::Front;
using rehearse::LidOpening;
using rehearse::Logger;
using rehearse::Place;
using rehearse::Plan;
using rehearse::Sensor;
using rehearse::Setting;
using rehearse::Spot;
using rehearse::Thermometer;
using rehearse::Weather;

inline constexpr std::array<std::string_view, 5> fire_kinds{"relay", "feeder", "damper", "splits",
                                                            "steady"};
inline constexpr std::array<std::string_view, 3> starts{"soaked", "cold", "short_of_soaked"};

inline constexpr std::array fire_fields{Field<Fire>{"high_w", &Fire::high_w},
                                        Field<Fire>{"low_w", &Fire::low_w},
                                        Field<Fire>{"dead_time_s", &Fire::dead_time_s},
                                        Field<Fire>{"bed_lag_s", &Fire::bed_lag_s},
                                        Field<Fire>{"flame_lag_s", &Fire::flame_lag_s},
                                        Field<Fire>{"half_band_k", &Fire::half_band_k},
                                        Field<Fire>{"gain_per_k", &Fire::gain_per_k},
                                        Field<Fire>{"reset_s", &Fire::reset_s},
                                        Field<Fire>{"cycle_s", &Fire::cycle_s},
                                        Field<Fire>{"travel_s", &Fire::travel_s},
                                        Field<Fire>{"period_s", &Fire::period_s},
                                        Field<Fire>{"period_scatter", &Fire::period_scatter},
                                        Field<Fire>{"size_scatter", &Fire::size_scatter},
                                        Field<Fire>{"look_gain_per_k", &Fire::look_gain_per_k},
                                        Field<Fire>{"air_driven", &Fire::air_driven},
                                        Field<Fire>{"plate_share", &Fire::plate_share},
                                        Field<Fire>{"fuel_j", &Fire::fuel_j}};

inline constexpr std::array body_fields{Field<Body>{"plate_j_k", &Body::plate_j_k},
                                        Field<Body>{"air_j_k", &Body::air_j_k},
                                        Field<Body>{"wall_j_k", &Body::wall_j_k},
                                        Field<Body>{"deep_j_k", &Body::deep_j_k},
                                        Field<Body>{"plate_air_w_k", &Body::plate_air_w_k},
                                        Field<Body>{"plate_wall_m2", &Body::plate_wall_m2},
                                        Field<Body>{"air_wall_w_k", &Body::air_wall_w_k},
                                        Field<Body>{"wall_deep_w_k", &Body::wall_deep_w_k},
                                        Field<Body>{"wall_out_w_k", &Body::wall_out_w_k},
                                        Field<Body>{"deep_out_w_k", &Body::deep_out_w_k},
                                        Field<Body>{"wind_loss_s_m", &Body::wind_loss_s_m},
                                        Field<Body>{"vent_m2", &Body::vent_m2},
                                        Field<Body>{"stack_m", &Body::stack_m},
                                        Field<Body>{"wind_draught", &Body::wind_draught},
                                        Field<Body>{"lid_w_k", &Body::lid_w_k}};

inline constexpr std::array place_fields{Field<Place>{"lag_s", &Place::lag_s},
                                         Field<Place>{"metal_share", &Place::metal_share},
                                         Field<Place>{"metal_lag_s", &Place::metal_lag_s},
                                         Field<Place>{"wall_share", &Place::wall_share},
                                         Field<Place>{"glow", &Place::glow},
                                         Field<Place>{"wind_k_s_m", &Place::wind_k_s_m},
                                         Field<Place>{"lid_share", &Place::lid_share},
                                         Field<Place>{"eddy_k", &Place::eddy_k}};

inline constexpr std::array spot_fields{
    Field<Spot>{"x_m", &Spot::x_m}, Field<Spot>{"y_m", &Spot::y_m}, Field<Spot>{"z_m", &Spot::z_m}};

inline constexpr std::array sensor_fields{Field<Sensor>{"sensor_lag_s", &Sensor::lag_s},
                                          Field<Sensor>{"sensor_glow", &Sensor::glow},
                                          Field<Sensor>{"sensor_shade", &Sensor::shade}};

inline constexpr std::array setting_fields{Field<Setting>{"sensor_lean_k", &Setting::sensor_lean_k},
                                           Field<Setting>{"vent", &Setting::vent},
                                           Field<Setting>{"stir", &Setting::stir},
                                           Field<Setting>{"heat", &Setting::heat},
                                           Field<Setting>{"sensor_lag", &Setting::sensor_lag},
                                           Field<Setting>{"sensor_shade", &Setting::sensor_shade},
                                           Field<Setting>{"sensor_glow", &Setting::sensor_glow}};

inline constexpr std::array disturbance_fields{
    Field<Disturbance>{"gust_m_s", &Disturbance::gust_m_s},
    Field<Disturbance>{"gust_lag_s", &Disturbance::gust_lag_s},
    Field<Disturbance>{"drift_level_k", &Disturbance::drift_level_k},
    Field<Disturbance>{"drift_lay_k", &Disturbance::drift_lay_k},
    Field<Disturbance>{"drift_lag_s", &Disturbance::drift_lag_s},
    Field<Disturbance>{"fuel_per_h", &Disturbance::fuel_per_h},
    Field<Disturbance>{"resetting_level_k", &Disturbance::resetting_level_k},
    Field<Disturbance>{"resetting_lay_k", &Disturbance::resetting_lay_k}};

inline constexpr std::array weather_fields{
    Field<Weather>{"outside_c", &Weather::outside_c},
    Field<Weather>{"outside_k_per_h", &Weather::outside_k_per_h},
    Field<Weather>{"wind_m_s", &Weather::wind_m_s}, Field<Weather>{"sun_w", &Weather::sun_w},
    Field<Weather>{"sun_per_h", &Weather::sun_per_h}};

inline constexpr std::array logger_fields{
    Field<Logger>{"interval_s", &Logger::interval_s}, Field<Logger>{"rounding", &Logger::rounding},
    Field<Logger>{"clock_ahead_s", &Logger::clock_ahead_s},
    Field<Logger>{"clock_drift_s_per_h", &Logger::clock_drift_s_per_h}};

inline constexpr std::array thermometer_fields{
    Field<Thermometer>{"lag_s", &Thermometer::lag_s},
    Field<Thermometer>{"bias_k", &Thermometer::bias_k},
    Field<Thermometer>{"noise_k", &Thermometer::noise_k},
    Field<Thermometer>{"touching", &Thermometer::touching},
    Field<Thermometer>{"touching_lag_s", &Thermometer::touching_lag_s},
    Field<Thermometer>{"rail", &Thermometer::rail}};

inline constexpr std::array plan_fields{Field<Plan>{"lead_s", &Plan::lead_s},
                                        Field<Plan>{"soaked_share", &Plan::soaked_share}};

inline constexpr std::array lid_fields{Field<LidOpening>{"at_s", &LidOpening::at_s},
                                       Field<LidOpening>{"open_s", &LidOpening::open_s}};

inline constexpr std::array load_fields{
    Field<ColdLoad>{"at_s", &ColdLoad::at_s}, Field<ColdLoad>{"heat_j_k", &ColdLoad::heat_j_k},
    Field<ColdLoad>{"start_c", &ColdLoad::start_c}, Field<ColdLoad>{"air_w_k", &ColdLoad::air_w_k}};

inline constexpr std::array front_fields{
    Field<Front>{"at_s", &Front::at_s}, Field<Front>{"within_s", &Front::within_s},
    Field<Front>{"outside_c", &Front::outside_c}, Field<Front>{"wind_m_s", &Front::wind_m_s}};

}  // namespace pitwright::rehearsal
