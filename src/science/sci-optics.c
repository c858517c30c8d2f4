#include "sci-optics.h"

#include <math.h>

#define DEGREE (M_PI / 180)
#define MM 1e-3

/* @value, or NaN where a formula has no meaning. */
static double
positive (double value)
{
  return value > 0 ? value : NAN;
}

double
sci_angle_of_view (double sensor_mm, double focal_mm)
{
  return 2 * atan (positive (sensor_mm) / (2 * positive (focal_mm))) / DEGREE;
}

double
sci_hyperfocal (double focal_mm, double f_number, double circle_mm)
{
  double focal = positive (focal_mm);

  return (focal * focal / (positive (f_number) * positive (circle_mm)) + focal) * MM;
}

SciSharp
sci_depth_of_field (double hyperfocal_m, double focal_mm, double focus_m)
{
  double focal = positive (focal_mm) * MM, beyond = positive (hyperfocal_m - focal);

  if (!(focus_m > focal) || isnan (beyond))
    return (SciSharp) { NAN, NAN };
  return (SciSharp) {
    .near_m = focus_m * beyond / (hyperfocal_m + focus_m - 2 * focal),
    .far_m = focus_m < hyperfocal_m ? focus_m * beyond / (hyperfocal_m - focus_m) : INFINITY,
  };
}

double
sci_frame_width (double sensor_mm, double focal_mm, double distance_m)
{
  return positive (sensor_mm) * positive (distance_m) / positive (focal_mm);
}

double
sci_frame_width_close (double sensor_mm, double focal_mm, double distance_m)
{
  return positive (sensor_mm) * positive (distance_m - focal_mm * MM) / positive (focal_mm);
}

double
sci_pixels_across (double length_m, double focal_mm, double distance_m, double sensor_mm, double n_pixels)
{
  if (!(length_m >= 0))
    return NAN;
  return length_m * positive (n_pixels) / sci_frame_width (sensor_mm, focal_mm, distance_m);
}

double
sci_motion_blur (double speed_m_s, double exposure_s, double focal_mm, double distance_m, double sensor_mm, double n_pixels)
{
  return sci_pixels_across (speed_m_s * positive (exposure_s), focal_mm, distance_m, sensor_mm, n_pixels);
}

double
sci_guide_number (double full_m, double iso, double power, double n_units)
{
  if (power > 1)
    return NAN;
  return positive (full_m) * sqrt (positive (iso) / 100 * positive (power) * positive (n_units));
}

double
sci_flash_f_number (double guide_m, double distance_m)
{
  return positive (guide_m) / positive (distance_m);
}

double
sci_flash_reach (double guide_m, double f_number)
{
  return positive (guide_m) / positive (f_number);
}

double
sci_power_stops (double power)
{
  return log2 (positive (power));
}

double
sci_flash_stops (double guide_m, double distance_m, double f_number)
{
  return 2 * log2 (sci_flash_f_number (guide_m, distance_m) / positive (f_number));
}
