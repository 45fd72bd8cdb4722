#pragma once

#include "food/ensemble.h"

/// Single-precision operations in a second of processor time, measured: ten independent
/// chains of multiply-adds (multiply and add, where there is no fused one) with one set of
/// instructions.
double peak_flops(pitwright::food::Instructions instructions);
