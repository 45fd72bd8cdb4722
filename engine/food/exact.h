#pragma once

#include "base/result.h"

namespace pitwright::food {

/// Bodies whose warming is known exactly: a wall heated from both faces, a long cylinder, a sphere.
enum class Body { slab, cylinder, sphere };

/// n-th root (from 0) of the body's equation for a Biot number Bi = h L / k.
///   slab z tan z = Bi;  cylinder z J1(z) = Bi J0(z);  sphere 1 - z cot z = Bi
double eigenvalue(Body body, double biot, int n = 0);
/// The coefficient that goes with a root.
double coefficient(Body body, double z);

/// theta = (T - Ta)/(T0 - Ta) at xi of the half-thickness or radius (0 center, 1 surface).
///   theta = sum over n of C exp(-z^2 Fo) f(z xi)
/// Pre: biot > 0, fourier > 0. Accuracy: 200 terms; 1e-9 for Fo >= 0.001.
/// Source: Carslaw & Jaeger, Conduction of Heat in Solids; any heat transfer textbook.
double exact_theta(Body body, double biot, double fourier, double xi);

/// Fourier number at which the center (or xi) has come to theta, by bisection. `terms` 1 gives the
/// textbook's one-term answer, which is wrong below Fo = 0.2.
double exact_fourier(Body body, double biot, double theta, double xi = 0, int terms = 200);

}  // namespace pitwright::food
