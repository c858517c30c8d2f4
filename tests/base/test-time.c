#include "config.h"

#include "tpt-error.h"
#include "tpt-time.h"

/* The rules of the zones are those of the IANA data on this machine. Dates of
 * changes: Europe/Bucharest goes forward on the last Sunday of March at 03:00
 * and back on the last Sunday of October at 04:00 (EU directive 2000/84/EC,
 * at 01:00 UTC); Asia/Kuching has had no change since 1945; Lord Howe shifts
 * by half an hour; Santiago changes at midnight (IANA tz database). */

static void
test_parse (void)
{
  static const struct {
    const char *text;
    const char *back; /* NULL: refused */
  } cases[] = {
    { "2026-05-14", "2026-05-14T00:00:00" },
    { "2026-05-14T07:30", "2026-05-14T07:30:00" },
    { "2026-05-14 07:30:05", "2026-05-14T07:30:05" },
    { "2026-05-14T07:30:05.5", "2026-05-14T07:30:05.500" },    /* a fraction, not five ms */
    { "2026-05-14T07:30:05.05", "2026-05-14T07:30:05.050" },
    { "2026-05-14T07:30:05.123456789", "2026-05-14T07:30:05.123" },
    { "2026-05-14T07:30:05Z", "2026-05-14T07:30:05+00:00" },
    { "2026-05-14T07:30:05+0545", "2026-05-14T07:30:05+05:45" },
    { "2026-05-14T07:30:05-03:30", "2026-05-14T07:30:05-03:30" },
    { "2024-02-29", "2024-02-29T00:00:00" },
    { "1969-12-31T23:59:59.999", "1969-12-31T23:59:59.999" },
    { "2023-02-29", NULL },                                     /* no leap year */
    { "1900-02-29", NULL },
    { "2026-02-30", NULL },
    { "2026-13-01", NULL },
    { "2026-00-10", NULL },
    { "2026-05-14T24:00:00", NULL },
    { "2026-05-14T07:60", NULL },
    { "2026-05-14T07:30:60", NULL },
    { "2026-05-14T07", NULL },
    { "2026-05-14T07:30:05.", NULL },
    { "2026-05-14T07:30:05+15:00", NULL },                      /* past +14:00 */
    { "2026-05-14T07:30:05 ", NULL },
    { "14.05.2026", NULL },
    { "2026:05:14 07:30:05", NULL },
    { "", NULL },
    { "0000-00-00T00:00:00", NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autofree char *back = NULL;
      TptReading reading;
      gboolean good = tpt_reading_parse (cases[i].text, &reading, &error);

      if (good)
        back = tpt_reading_format (reading);
      else
        g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
      g_assert_cmpstr (back, ==, cases[i].back);
    }
}

static void
test_resolve (void)
{
  static const struct {
    const char *zone;
    const char *clock;
    TptLocalFit fit;
    const char *first; /* UTC */
    const char *second;
  } cases[] = {
    { "Asia/Kuching", "2026-03-29T03:30:00", TPT_LOCAL_ONCE, "2026-03-28T19:30:00Z", "2026-03-28T19:30:00Z" },
    { "Europe/Bucharest", "2026-03-29T02:59:59", TPT_LOCAL_ONCE, "2026-03-29T00:59:59Z", "2026-03-29T00:59:59Z" },
    { "Europe/Bucharest", "2026-03-29T03:00:00", TPT_LOCAL_NEVER, "2026-03-29T01:00:00Z", "2026-03-29T01:00:00Z" },
    { "Europe/Bucharest", "2026-03-29T03:59:59", TPT_LOCAL_NEVER, "2026-03-29T01:59:59Z", "2026-03-29T01:59:59Z" },
    { "Europe/Bucharest", "2026-03-29T04:00:00", TPT_LOCAL_ONCE, "2026-03-29T01:00:00Z", "2026-03-29T01:00:00Z" },
    { "Europe/Bucharest", "2026-10-25T02:59:59", TPT_LOCAL_ONCE, "2026-10-24T23:59:59Z", "2026-10-24T23:59:59Z" },
    { "Europe/Bucharest", "2026-10-25T03:00:00", TPT_LOCAL_TWICE, "2026-10-25T00:00:00Z", "2026-10-25T01:00:00Z" },
    { "Europe/Bucharest", "2026-10-25T03:59:59", TPT_LOCAL_TWICE, "2026-10-25T00:59:59Z", "2026-10-25T01:59:59Z" },
    { "Europe/Bucharest", "2026-10-25T04:00:00", TPT_LOCAL_ONCE, "2026-10-25T02:00:00Z", "2026-10-25T02:00:00Z" },
    /* Half an hour only */
    { "Australia/Lord_Howe", "2026-04-05T01:45:00", TPT_LOCAL_TWICE, "2026-04-04T14:45:00Z", "2026-04-04T15:15:00Z" },
    { "Australia/Lord_Howe", "2026-04-05T01:15:00", TPT_LOCAL_ONCE, "2026-04-04T14:15:00Z", "2026-04-04T14:15:00Z" },
    /* Midnight itself is left out */
    { "America/Santiago", "2026-09-06T00:00:00", TPT_LOCAL_NEVER, "2026-09-06T04:00:00Z", "2026-09-06T04:00:00Z" },
    { "UTC", "2026-10-25T03:30:00", TPT_LOCAL_ONCE, "2026-10-25T03:30:00Z", "2026-10-25T03:30:00Z" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (TptZone) zone = tpt_zone_new (cases[i].zone, &error);
      g_autofree char *one = NULL, *two = NULL;
      TptReading reading;
      TptInstant first, second;

      g_assert_no_error (error);
      g_assert_true (tpt_reading_parse (cases[i].clock, &reading, &error));
      g_test_message ("%s %s", cases[i].zone, cases[i].clock);
      g_assert_cmpint (tpt_zone_resolve (zone, reading.clock_ms, &first, &second), ==, cases[i].fit);
      one = tpt_instant_format (first, NULL);
      two = tpt_instant_format (second, NULL);
      g_assert_cmpstr (one, ==, cases[i].first);
      g_assert_cmpstr (two, ==, cases[i].second);
    }
}

static void
test_instant_parse (void)
{
  static const struct {
    const char *zone; /* NULL: none */
    const char *text;
    const char *utc; /* NULL: refused */
    const char *says;
  } cases[] = {
    { "Europe/Bucharest", "2026-10-25T03:30:00", NULL, "+03:00 for the first or +02:00 for the second" },
    { "Europe/Bucharest", "2026-10-25T03:30:00+03:00", "2026-10-25T00:30:00Z", NULL },
    { "Europe/Bucharest", "2026-10-25T03:30:00+02:00", "2026-10-25T01:30:00Z", NULL },
    { "Europe/Bucharest", "2026-03-29T03:30:00", NULL, "never comes" },
    { NULL, "2026-03-29T03:30:00", NULL, "no offset" },
    { NULL, "2026-03-29T03:30:00Z", "2026-03-29T03:30:00Z", NULL },
    { "Asia/Kuching", "2026-01-01", "2025-12-31T16:00:00Z", NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GError) error = NULL;
      g_autoptr (TptZone) zone = cases[i].zone != NULL ? tpt_zone_new (cases[i].zone, NULL) : NULL;
      TptInstant instant = tpt_instant_parse (cases[i].text, zone, &error);

      if (cases[i].utc != NULL)
        {
          g_autofree char *utc = tpt_instant_format (instant, NULL);
          g_assert_no_error (error);
          g_assert_cmpstr (utc, ==, cases[i].utc);
        }
      else
        {
          g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
          g_assert_nonnull (strstr (error->message, cases[i].says));
        }
    }
}

static void
test_gpkg (void)
{
  static const struct {
    const char *text;
    TptInstant instant;
  } cases[] = {
    { "1970-01-01T00:00:00.000Z", 0 },
    { "2024-05-01T21:14:03.250Z", 1714598043250 },
    { "1969-12-31T23:59:59.999Z", -1 },
    { "2024-05-01T21:14:03Z", TPT_NO_INSTANT },
    { "2024-05-01T21:14:03.250", TPT_NO_INSTANT },
    { "garbage", TPT_NO_INSTANT },
    { NULL, TPT_NO_INSTANT },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_assert_cmpint (tpt_instant_from_gpkg (cases[i].text), ==, cases[i].instant);
      if (cases[i].instant != TPT_NO_INSTANT)
        {
          g_autofree char *back = tpt_instant_to_gpkg (cases[i].instant);
          g_assert_cmpstr (back, ==, cases[i].text);
        }
    }
}

/* Every day of 800 years there and back, and against GLib's calendar. */
static void
test_civil (void)
{
  for (gint64 day = tpt_days_from_civil (1600, 1, 1); day < tpt_days_from_civil (2400, 1, 1); day += 1)
    {
      int y, m, d;

      tpt_civil_from_days (day, &y, &m, &d);
      g_assert_cmpint (tpt_days_from_civil (y, m, d), ==, day);
      if (day % 97 == 0)
        {
          g_autoptr (GDate) date = g_date_new_dmy ((GDateDay) d, m, (GDateYear) y);
          g_assert_cmpint ((gint64) g_date_get_julian (date) - 719163, ==, day);
        }
    }
}

static void
test_day_start (void)
{
  static const struct {
    const char *zone;
    const char *at;
    const char *start;
  } cases[] = {
    { "Asia/Kuching", "2026-05-14T15:59:59Z", "2026-05-14T00:00:00+08:00" },
    { "Asia/Kuching", "2026-05-14T16:00:00Z", "2026-05-15T00:00:00+08:00" },
    { "Europe/Bucharest", "2026-03-29T20:00:00Z", "2026-03-29T00:00:00+02:00" },
    { "America/Santiago", "2026-09-06T12:00:00Z", "2026-09-06T01:00:00-03:00" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptZone) zone = tpt_zone_new (cases[i].zone, NULL);
      TptInstant at = tpt_instant_parse (cases[i].at, NULL, NULL);
      g_autofree char *start = tpt_instant_format (tpt_zone_day_start (zone, at), zone);

      g_assert_cmpstr (start, ==, cases[i].start);
    }
}

/* Neither TZ nor the locale of the machine may matter. */
static void
test_machine_zone (void)
{
  g_autoptr (TptZone) zone = tpt_zone_new ("Europe/Bucharest", NULL);
  TptInstant before, after;

  g_setenv ("TZ", "America/New_York", TRUE);
  before = tpt_instant_parse ("2026-07-01T12:00:00", zone, NULL);
  g_setenv ("TZ", "Pacific/Auckland", TRUE);
  after = tpt_instant_parse ("2026-07-01T12:00:00", zone, NULL);
  g_assert_cmpint (before, ==, after);
}

static void
test_zone_names (void)
{
  g_autoptr (GError) error = NULL;

  g_assert_null (tpt_zone_new ("Mars/Olympus", &error));
  g_assert_error (error, TPT_ERROR, TPT_ERROR_USAGE);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/time/parse", test_parse);
  g_test_add_func ("/time/resolve", test_resolve);
  g_test_add_func ("/time/instant-parse", test_instant_parse);
  g_test_add_func ("/time/gpkg", test_gpkg);
  g_test_add_func ("/time/civil", test_civil);
  g_test_add_func ("/time/day-start", test_day_start);
  g_test_add_func ("/time/machine-zone", test_machine_zone);
  g_test_add_func ("/time/zone-names", test_zone_names);
  return g_test_run ();
}
