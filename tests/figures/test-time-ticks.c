#include "tpt-time-ticks.h"

typedef struct {
  const char *zone;
  const char *from;
  const char *to;
  int max_ticks;
  const char *expected; /* labels, each new context in brackets before its label */
} Case;

/* Rules of daylight saving as in the IANA zone data: Berlin changes at 01:00 UTC
 * on the last Sundays of March and October; Sao Paulo went forward at local
 * midnight on 4 November 2018. */
static const Case cases[] = {
  /* one hour */
  { "UTC", "2026-03-14T06:00", "2026-03-14T07:00", 6, "[14 Mar 2026] 06:00 06:15 06:30 06:45 07:00" },
  /* an hour that is in no step of an hour */
  { "UTC", "2026-03-14T06:07", "2026-03-14T06:13", 9, "[14 Mar 2026] 06:07 06:08 06:09 06:10 06:11 06:12 06:13" },
  /* over midnight */
  { "UTC", "2026-03-14T20:00", "2026-03-15T04:00", 3, "[14 Mar 2026] 21:00 [15 Mar 2026] 00:00 03:00" },
  /* the hour left out */
  { "Europe/Berlin", "2026-03-29T00:00", "2026-03-29T05:00", 8, "[29 Mar 2026] 00:00 01:00 03:00 04:00 05:00" },
  /* the hour that comes twice */
  { "Europe/Berlin", "2026-10-25T00:00", "2026-10-25T05:00", 8, "[25 Oct 2026] 00:00 01:00 02:00 02:00 03:00 04:00 05:00" },
  /* longer steps take it once */
  { "Europe/Berlin", "2026-10-25T00:00", "2026-10-25T12:00", 6, "[25 Oct 2026] 00:00 03:00 06:00 09:00 12:00" },
  /* a midnight that never comes still begins its day */
  { "America/Sao_Paulo", "2018-11-03T00:00", "2018-11-05T00:00", 3, "[Nov 2018] 3 4 5" },
  { "America/Sao_Paulo", "2018-11-03T12:00", "2018-11-04T12:00", 3, "[3 Nov 2018] 12:00 [4 Nov 2018] 12:00" },
  /* days to weeks */
  { "Asia/Kuching", "2026-05-28", "2026-06-05", 10, "[May 2026] 28 29 30 31 [Jun 2026] 1 2 3 4 5" },
  { "Asia/Kuching", "2026-05-24", "2026-06-05", 8, "[May 2026] 25 27 29 [Jun 2026] 1 3 5" },
  { "Asia/Kuching", "2026-05-28", "2026-07-13", 7, "[Jun 2026] 1 8 15 22 [Jul 2026] 1 8" },
  { "Asia/Kuching", "2026-05-28", "2026-07-13", 4, "[Jun 2026] 1 15 [Jul 2026] 1" },
  /* February has its 22nd and the 1st of March follows */
  { "UTC", "2028-02-10", "2028-03-10", 4, "[Feb 2028] 15 22 [Mar 2028] 1 8" },
  /* months */
  { "Asia/Kuching", "2025-03-01", "2025-09-01", 8, "[2025] Mar Apr May Jun Jul Aug Sep" },
  { "Asia/Kuching", "2025-03-01", "2026-06-13", 8, "[2025] Apr Jul Oct [2026] Jan Apr" },
  { "Europe/Berlin", "2025-01-01", "2027-01-01", 5, "[2025] Jan Jul [2026] Jan Jul [2027] Jan" },
  /* ten years */
  { "Europe/Berlin", "2016-06-01", "2026-06-01", 12, "2017 2018 2019 2020 2021 2022 2023 2024 2025 2026" },
  { "Europe/Berlin", "2016-06-01", "2026-06-01", 6, "2018 2020 2022 2024 2026" },
  { "Europe/Berlin", "2016-06-01", "2026-06-01", 2, "2020 2025" },
  /* room for one label only */
  { "UTC", "2026-03-02", "2026-04-03", 1, "[2026] Apr" },
};

static TptRange
parse_range (const Case *c,
             TptZone *zone)
{
  g_autoptr (GError) error = NULL;
  TptRange range = { tpt_instant_parse (c->from, zone, &error), tpt_instant_parse (c->to, zone, &error) };

  g_assert_no_error (error);
  return range;
}

static void
test_labels (void)
{
  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptZone) zone = tpt_zone_new (cases[i].zone, NULL);
      g_autoptr (GArray) ticks = tpt_time_ticks (parse_range (&cases[i], zone), zone, cases[i].max_ticks);
      g_autoptr (GString) text = g_string_new (NULL);

      for (guint j = 0; j < ticks->len; j++)
        {
          const TptTick *tick = &g_array_index (ticks, TptTick, j);

          if (tick->context[0] != '\0')
            g_string_append_printf (text, " [%s]", tick->context);
          g_string_append_printf (text, " %s", tick->label);
        }
      if (g_strcmp0 (text->len > 0 ? text->str + 1 : "", cases[i].expected) != 0)
        g_error ("case %u: got '%s', expected '%s'", i, text->str, cases[i].expected);
    }
}

/* Every tick reads what it says on the clock of its zone. */
static void
test_instants (void)
{
  g_autoptr (TptZone) zone = tpt_zone_new ("Europe/Berlin", NULL);
  TptRange autumn = { tpt_instant_parse ("2026-10-24T22:00Z", NULL, NULL), tpt_instant_parse ("2026-10-25T04:00Z", NULL, NULL) };
  g_autoptr (GArray) ticks = tpt_time_ticks_at_step (autumn, zone, (TptTickStep) { TPT_TICK_HOURS, 1 });
  static const char *const expected[] = {
    "2026-10-25T00:00:00+02:00", "2026-10-25T01:00:00+02:00", "2026-10-25T02:00:00+02:00",
    "2026-10-25T02:00:00+01:00", "2026-10-25T03:00:00+01:00", "2026-10-25T04:00:00+01:00", "2026-10-25T05:00:00+01:00",
  };

  g_assert_cmpuint (ticks->len, ==, G_N_ELEMENTS (expected));
  for (guint i = 0; i < ticks->len; i++)
    {
      g_autofree char *text = tpt_instant_format (g_array_index (ticks, TptTick, i).at, zone);

      g_assert_cmpstr (text, ==, expected[i]);
    }
}

/* Over every span from a minute to a century: in order, within the range, and
 * never more than there is room for. */
static void
test_spans (void)
{
  static const char *const zones[] = { "UTC", "Europe/Berlin", "America/Sao_Paulo", "Australia/Lord_Howe", "Asia/Kuching" };
  TptInstant from = tpt_instant_parse ("2017-10-14T23:17:11Z", NULL, NULL);

  for (guint i = 0; i < G_N_ELEMENTS (zones); i++)
    for (gint64 span = TPT_MINUTE; span < 100 * 366 * TPT_DAY; span = span * 3 / 2)
      for (int most = 1; most <= 16; most += 5)
        {
          g_autoptr (TptZone) zone = tpt_zone_new (zones[i], NULL);
          TptRange range = { from, from + span };
          g_autoptr (GArray) ticks = tpt_time_ticks (range, zone, most);

          g_assert_cmpuint (ticks->len, <=, most);
          for (guint j = 0; j < ticks->len; j++)
            {
              TptInstant at = g_array_index (ticks, TptTick, j).at;

              g_assert_true (at >= range.from && at <= range.to);
              g_assert_true (j == 0 || at > g_array_index (ticks, TptTick, j - 1).at);
            }
        }
}

int
main (int argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/time-ticks/labels", test_labels);
  g_test_add_func ("/figures/time-ticks/instants", test_instants);
  g_test_add_func ("/figures/time-ticks/spans", test_spans);
  return g_test_run ();
}
