/* Instants, clock readings and the project's zone.
 *
 * An instant is a point in time, UTC, in milliseconds. A reading is what a
 * clock showed: a date and a time of day, perhaps with an offset from UTC. The
 * two are different types on purpose: a reading becomes an instant only
 * through a zone or a clock correction, and that step can fail in two honest
 * ways, the hour that comes twice and the hour that never comes. Nothing in
 * the program computes with readings.
 */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Milliseconds since 1970-01-01T00:00:00Z. */
typedef gint64 TptInstant;

#define TPT_NO_INSTANT G_MININT64
#define TPT_SECOND ((gint64) 1000)
#define TPT_MINUTE (60 * TPT_SECOND)
#define TPT_HOUR (60 * TPT_MINUTE)
#define TPT_DAY (24 * TPT_HOUR)

#define TPT_NO_OFFSET G_MININT

/**
 * TptReading:
 * @clock_ms: the reading as if it were UTC, in milliseconds since 1970
 * @offset_s: seconds east of UTC when the clock told, else %TPT_NO_OFFSET
 */
typedef struct {
  gint64 clock_ms;
  int offset_s;
} TptReading;

/**
 * TptRange: half-open, from <= t < to. Either end may be %TPT_NO_INSTANT for
 * 'since ever' and 'until further notice'.
 */
typedef struct {
  TptInstant from;
  TptInstant to;
} TptRange;

/* An IANA zone. Immutable, safe between threads. */
typedef struct _TptZone TptZone;

/**
 * TptLocalFit: how many instants a clock reading fits in a zone.
 * @TPT_LOCAL_ONCE: exactly one, the ordinary case
 * @TPT_LOCAL_TWICE: two, in the hour that comes twice when clocks go back
 * @TPT_LOCAL_NEVER: none, in the hour left out when clocks go forward
 */
typedef enum {
  TPT_LOCAL_ONCE,
  TPT_LOCAL_TWICE,
  TPT_LOCAL_NEVER,
} TptLocalFit;

/**
 * tpt_zone_new:
 * @identifier: an IANA name such as "Asia/Kuching"; "UTC" always works
 * @error: return location
 *
 * Returns: (transfer full) (nullable): the zone, or %NULL with
 *   %TPT_ERROR_USAGE when this machine's zone data has no such name
 */
TptZone *tpt_zone_new (const char *identifier, GError **error);
TptZone *tpt_zone_ref (TptZone *zone);
void tpt_zone_unref (TptZone *zone);
const char *tpt_zone_get_identifier (TptZone *zone);

/* Seconds east of UTC at @instant. */
int tpt_zone_offset_at (TptZone *zone, TptInstant instant);

/**
 * tpt_zone_resolve:
 * @zone: a zone
 * @clock_ms: a reading as if it were UTC, milliseconds
 * @first: (out): the instant; the earlier of two; for the hour that never
 *   comes, the reading taken with the offset in force before the change
 * @second: (out) (nullable): the later of two, else equal to @first
 *
 * Returns: how the reading fits. Callers must not use @first of
 *   %TPT_LOCAL_TWICE or %TPT_LOCAL_NEVER without asking somebody.
 */
TptLocalFit tpt_zone_resolve (TptZone *zone, gint64 clock_ms, TptInstant *first, TptInstant *second);

/**
 * tpt_reading_parse:
 * @text: ISO 8601 extended: `YYYY-MM-DD`, or with `Thh:mm[:ss[.fff]]` (a blank
 *   may stand for the T) and `Z` or `±hh[:]mm`
 * @reading: (out): the reading; a date alone is midnight
 * @error: return location
 *
 * Impossible dates (30 February, hour 24, month 13) are refused. A fraction
 * of any length is read as a fraction and cut to milliseconds.
 *
 * Returns: %FALSE with %TPT_ERROR_DATA
 */
gboolean tpt_reading_parse (const char *text, TptReading *reading, GError **error);

/* (transfer full): `YYYY-MM-DDThh:mm:ss[.fff][±hh:mm]`, fraction only if not zero. */
char *tpt_reading_format (TptReading reading);

/**
 * tpt_instant_parse:
 * @text: as for tpt_reading_parse()
 * @zone: (nullable): the zone of a time without offset; %NULL refuses such a time
 *
 * Returns: the instant, or %TPT_NO_INSTANT with %TPT_ERROR_DATA; the message
 *   for the doubled hour names both offsets to choose from
 */
TptInstant tpt_instant_parse (const char *text, TptZone *zone, GError **error);

/* (transfer full): with @zone its local time and offset, else UTC with Z. */
char *tpt_instant_format (TptInstant instant, TptZone *zone);

/* (transfer full): `YYYY-MM-DDThh:mm:ss.fffZ`, the form of GeoPackage. */
char *tpt_instant_to_gpkg (TptInstant instant);

/* The inverse of tpt_instant_to_gpkg(), for database rows: no allocation.
 * %TPT_NO_INSTANT for %NULL or anything not of that exact form. */
TptInstant tpt_instant_from_gpkg (const char *text);

TptInstant tpt_instant_now (void);

/* Days since 1970-01-01 of a proleptic Gregorian date, and back. */
gint64 tpt_days_from_civil (int year, int month, int day);
void tpt_civil_from_days (gint64 days, int *year, int *month, int *day);

/* Local midnight that begins the local day of @instant; when that midnight
 * never comes (clocks go forward at 00:00), the first instant of the day. */
TptInstant tpt_zone_day_start (TptZone *zone, TptInstant instant);

/* Local day number (days since 1970-01-01 of the local date) of @instant. */
gint64 tpt_zone_local_day (TptZone *zone, TptInstant instant);

/* The first instant of local day @day. */
TptInstant tpt_zone_day_from_number (TptZone *zone, gint64 day);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptZone, tpt_zone_unref)

G_END_DECLS
