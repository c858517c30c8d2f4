/* The hour of a sun's day: a clock on which the sun rises at 6 and sets at 18 all year.
 *
 * Instants in ms since 1970-01-01T00:00:00Z; angles in degrees, north and east positive.
 * Plain C, no state. */
#pragma once

#include <stdbool.h>
#include <stdint.h>

/* Double anchoring: the time between sunrise and sunset mapped to a span of hours, the
 * night likewise to the rest.
 *
 * Given:
 *   clock            double  hour of the day, 0 <= clock < 24
 *   sunrise, sunset  double  hours of the same clock, sunrise < sunset < sunrise + 24
 *   anchor_rise      double  hour that sunrise becomes, 6 for the sun's day
 *   anchor_set       double  hour that sunset becomes, 18; above anchor_rise
 *
 * Returned:
 *   0 <= h < 24; NaN when an argument is NaN or out of order
 *
 * References:
 *   Nouvellet, Rasmussen, Macdonald & Courchamp 2012, J. Zool. 286:179-186;
 *   Vazquez, Rowcliffe, Spoelstra & Jansen 2019, Methods Ecol. Evol. 10:2057-2066.
 */
double sci_anchor_hour (double clock, double sunrise, double sunset, double anchor_rise, double anchor_set);

/* The hour of the sun's day at a place.
 *
 * Given:
 *   instant_ms           int64_t
 *   latitude, longitude  double   degrees
 *
 * Returned:
 *   hours, 0 <= h < 24: 6 at sunrise, 18 at sunset of its day; NaN where the sun does not
 *   both rise and set, and for a place that is not known (NaN)
 *
 * Notes:
 *   Sunrise and sunset are those of a sun that keeps the declination it has at the moment
 *   asked about, so that the hour is 6 and 18 at sunrise and sunset themselves: a few
 *   sines, made for calls by the hundred thousand. Against the times of sci_sun_day():
 *   within 20 s up to 50 degrees of latitude.
 */
double sci_sun_hour (int64_t instant_ms, double latitude, double longitude);

/* Sunrise and sunset of a date by the same reckoning.
 *
 * Given:
 *   noon_ms              int64_t  an instant near noon of the date
 *   latitude, longitude  double
 *
 * Returned:
 *   rise_ms, set_ms      int64_t  and true; false, with SCI_NO_INSTANT, where the sun stays on
 *                                 one side
 *   twilight_hours       double   length of civil twilight; NaN where it lasts all night
 */
bool sci_sun_rise_set (int64_t noon_ms,
                       double latitude,
                       double longitude,
                       int64_t *rise_ms,
                       int64_t *set_ms,
                       double *twilight_hours);
