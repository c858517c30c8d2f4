/* What a lens sees, what stays sharp, and what a flash lights.
 *
 * Focal lengths, sensors and circles of confusion in mm, distances in m from
 * the lens, angles in degrees. Every function yields NaN for a value that is
 * not positive, unless said otherwise. Textbook formulas, such as in Ray,
 * Applied Photographic Optics (from memory). Plain C, no state.
 */
#pragma once

/* Angle of view across a sensor's side (or its diagonal), focused far away:
 * 2 atan (sensor / 2 focal). */
double sci_angle_of_view (double sensor_mm, double focal_mm);

/* The nearest focus at which far things are still sharp.
 *
 * Given:
 *   focal_mm   double
 *   f_number   double
 *   circle_mm  double  largest blur on the sensor that passes for a point
 *
 * Returned:
 *   m: focal^2 / (f_number circle) + focal
 */
double sci_hyperfocal (double focal_mm, double f_number, double circle_mm);

/* From where to where it is sharp. */
typedef struct {
  double near_m;
  double far_m; /* INFINITY from the hyperfocal distance on */
} SciSharp;

/* Depth of field.
 *
 * Given:
 *   hyperfocal_m  double  as from sci_hyperfocal()
 *   focal_mm      double
 *   focus_m       double  distance in focus, > focal length
 *
 * Returned:
 *   near = s (H - f) / (H + s - 2f), far = s (H - f) / (H - s)
 */
SciSharp sci_depth_of_field (double hyperfocal_m, double focal_mm, double focus_m);

/* Width of the scene that fills the sensor, m.
 *
 * Given:
 *   sensor_mm, focal_mm  double
 *   distance_m           double
 *
 * Returned:
 *   sci_frame_width(): sensor * distance / focal, for things far away against
 *   the focal length; sci_frame_width_close(): sensor * (distance - focal) /
 *   focal, a thin lens focused there. They differ by sensor itself, that is
 *   by mm: the first is what everything here takes.
 */
double sci_frame_width (double sensor_mm, double focal_mm, double distance_m);
double sci_frame_width_close (double sensor_mm, double focal_mm, double distance_m);

/* How many pixels a length across the view covers.
 *
 * Given:
 *   length_m             double  >= 0
 *   focal_mm             double
 *   distance_m           double
 *   sensor_mm, n_pixels  double  width of the sensor, and pixels along it
 *
 * Returned:
 *   pixels
 */
double sci_pixels_across (double length_m, double focal_mm, double distance_m, double sensor_mm, double n_pixels);

/* How far something that crosses the view is smeared, pixels: the way it goes
 * while the picture is taken. With flash as the only light, @exposure_s is
 * the length of the flash. @speed_m_s >= 0. */
double sci_motion_blur (double speed_m_s, double exposure_s, double focal_mm, double distance_m, double sensor_mm,
                        double n_pixels);

/* Guide number of a flash as it is used.
 *
 * Given:
 *   full_m   double  guide number in metres at ISO 100 and full power
 *   iso      double
 *   power    double  share of full power, 0 < power <= 1
 *   n_units  double  equal flashes at the same distance
 *
 * Returned:
 *   m: full * sqrt (iso / 100 * power * units)
 */
double sci_guide_number (double full_m, double iso, double power, double n_units);

/* The f-number that exposes well at a distance, and the distance that an
 * f-number exposes well: guide number over the other. */
double sci_flash_f_number (double guide_m, double distance_m);
double sci_flash_reach (double guide_m, double f_number);

/* Stops of a share of full power: log2 (power); 1/16 is -4. */
double sci_power_stops (double power);

/* Stops by which a flash exposes too much (positive) or too little. */
double sci_flash_stops (double guide_m, double distance_m, double f_number);
