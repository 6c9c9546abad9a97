#include "season/moisture.hpp"

#include <algorithm>

namespace boardring {

double moisture_in_air_pct(double temperature_c, double humidity_pct) {
    const double t = temperature_c, h = humidity_pct / 100.0;
    const double w = 349.0 + 1.29 * t + 0.0135 * t * t;
    const double k = 0.805 + 0.000736 * t - 0.00000273 * t * t;
    const double k1 = 6.27 - 0.00938 * t - 0.000303 * t * t;
    const double k2 = 1.91 + 0.0407 * t - 0.000293 * t * t;
    const double kh = k * h;
    const double bound = k1 * kh + 2.0 * k1 * k2 * kh * kh;
    return 1800.0 / w * (kh / (1.0 - kh) + bound / (1.0 + k1 * kh + k1 * k2 * kh * kh));
}

double movement_mm(double size_mm, double coefficient, double from_pct, double to_pct) {
    const double from = std::clamp(from_pct, 0.0, kFibreSaturationPct), to = std::clamp(to_pct, 0.0, kFibreSaturationPct);
    const auto within = [](double pct) { return pct >= kCoefficientLowPct && pct <= kCoefficientHighPct; };
    if (within(from) && within(to)) return size_mm * coefficient * (to - from);
    return size_mm * (to - from) / (1.0 / coefficient + 20.0 - kFibreSaturationPct + from);
}

}  // namespace boardring
