#include "figure-samples.h"

#include <string.h>

static const TptFigureStyle style = TPT_FIGURE_STYLE_INIT;

static void
test_csv (void)
{
  g_autoptr (TptFigure) figure = sample_timeline ();
  g_autofree char *csv = tpt_figure_csv (figure);

  /* the day before the range is left out; readings are in the order of time */
  g_assert_cmpstr (csv, ==,
                   "item,what,from,to,value\r\n"
                   "frames,,2026-03-10T00:00:00+08:00,2026-03-11T00:00:00+08:00,120\r\n"
                   "frames,,2026-03-11T00:00:00+08:00,2026-03-12T00:00:00+08:00,31\r\n"
                   "visit,cells swapped,2026-03-12T10:00:00+08:00,,\r\n"
                   "gap,card full,2026-03-20T00:00:00+08:00,2026-03-23T00:00:00+08:00,\r\n"
                   "reading-percent,Camera battery,2026-03-12T09:59:00+08:00,,12.5\r\n"
                   "renewed-percent,Camera battery,2026-03-12T10:00:00+08:00,,100\r\n"
                   "forecast-percent,Camera battery,2026-04-01T00:00:00+08:00,,55\r\n"
                   "out-p10,Camera battery,2026-04-10T00:00:00+08:00,,\r\n"
                   "out-p50,Camera battery,2026-04-20T00:00:00+08:00,,\r\n"
                   "out-p90,Camera battery,,,\r\n");
}

static void
test_hits (void)
{
  static const struct {
    const char *at;
    double up; /* share of the plot above its foot */
    TptHitKind kind;
    const char *text;
  } cases[] = {
    { "2026-03-10T12:00", 0.1, TPT_HIT_DAY, "120 frames, 10 March 2026" },
    { "2026-03-12T10:00", 0.5, TPT_HIT_VISIT, "Visit, 12 March 2026 10:00: cells swapped" },
    { "2026-03-21T12:00", 0.9, TPT_HIT_GAP, "No working camera, 20 March 2026 to 22 March 2026: card full" },
    { "2026-04-15", 0.2, TPT_HIT_FORECAST, "Camera battery: will not give out before 10 April 2026, with a chance of 90 %" },
    { "2026-03-17", 0.9, TPT_HIT_NOTHING, NULL },
  };
  g_autoptr (TptFigure) figure = sample_timeline ();
  TptFigureRect plot = tpt_figure_plot_rect (figure, 900, 240, &style);

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      double x = tpt_figure_position_of (figure, sample_instant (cases[i].at), 900, 240, &style);
      g_auto (TptHit) hit = { 0 };

      tpt_figure_hit (figure, x, plot.y + plot.height * (1 - cases[i].up), 900, 240, &style, &hit);
      g_assert_cmpstr (hit.text, ==, cases[i].text);
      g_assert_cmpint (hit.kind, ==, cases[i].kind);
    }
}

static void
test_words (void)
{
  g_autoptr (TptFigure) figure = sample_timeline ();
  g_autofree char *words = tpt_figure_describe (figure);

  g_assert_nonnull (strstr (words, "One station through time, 1 March 2026 to 30 April 2026: 151 frames, 1 visit."));
  g_assert_nonnull (strstr (words, "Camera battery: renewed to 100 %, 12 March 2026 10:00."));
}

/* In the zone of the test a day has 25 hours in October: its bar is as much wider. */
static void
test_long_day (void)
{
  g_autoptr (TptZone) zone = tpt_zone_new ("Europe/Berlin", NULL);
  TptRange range = { tpt_instant_parse ("2026-10-20", zone, NULL), tpt_instant_parse ("2026-10-30", zone, NULL) };
  g_autoptr (TptFigure) figure = tpt_timeline_new (range, zone);
  gint64 day = tpt_zone_local_day (zone, tpt_instant_parse ("2026-10-25", zone, NULL));
  double widths[2];

  tpt_timeline_add_day (figure, day - 1, 10);
  tpt_timeline_add_day (figure, day, 10);
  for (int i = 0; i < 2; i++)
    {
      g_auto (TptHit) hit = { 0 };
      TptFigureRect plot = tpt_figure_plot_rect (figure, 900, 240, &style);
      double x = tpt_figure_position_of (figure, tpt_zone_day_from_number (zone, day - 1 + i) + 12 * TPT_HOUR, 900, 240, &style);

      g_assert_true (tpt_figure_hit (figure, x, plot.y + plot.height - 3, 900, 240, &style, &hit));
      widths[i] = hit.rect.width + 1; /* a unit is left between days */
    }
  g_assert_cmpfloat_with_epsilon (widths[1] / widths[0], 25.0 / 24.0, 1e-6);
}

int
main (int argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/timeline/csv", test_csv);
  g_test_add_func ("/figures/timeline/hits", test_hits);
  g_test_add_func ("/figures/timeline/words", test_words);
  g_test_add_func ("/figures/timeline/long-day", test_long_day);
  return g_test_run ();
}
