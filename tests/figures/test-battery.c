#include "config.h"

#include "figure-samples.h"

#include <glib/gstdio.h>
#include <string.h>

#include "tpt-battery.h"

static const TptFigureStyle style = TPT_FIGURE_STYLE_INIT;

/* Two readings by percent, one by volts, a swap, and a fan that runs out. */
static TptFigure *
make_battery (void)
{
  g_autoptr (TptZone) zone = sample_zone ();
  TptRange range = { sample_instant ("2026-03-01"), sample_instant ("2026-06-01") };
  TptFigure *figure = tpt_battery_new (range, zone, sample_instant ("2026-05-01"));
  const TptBatteryPoint points[] = {
    { sample_instant ("2026-04-10T10:00"), 1, NAN, NAN, TPT_BATTERY_RENEWED, "Otter bank" }, /* given before its reading */
    { sample_instant ("2026-04-10T10:00"), 0.29, NAN, NAN, TPT_BATTERY_PERCENT, "Otter bank" },
    { sample_instant ("2026-03-02T08:00"), 1, NAN, NAN, TPT_BATTERY_FITTED, "Otter bank" },
    { sample_instant ("2026-04-20T10:00"), 0.8, 0.6, 0.95, TPT_BATTERY_VOLTS, NULL },
    { sample_instant ("2026-01-20T10:00"), 0.5, NAN, NAN, TPT_BATTERY_PERCENT, NULL }, /* before the range */
    { sample_instant ("2026-04-21T10:00"), NAN, NAN, NAN, TPT_BATTERY_PERCENT, NULL }, /* not known */
  };

  for (guint i = 0; i < G_N_ELEMENTS (points); i++)
    tpt_battery_add_point (figure, &points[i]);
  tpt_battery_add_fan (figure, sample_instant ("2026-05-01"), 0.5, 0.7, 0.9);
  tpt_battery_add_fan (figure, sample_instant ("2026-05-11"), 0, 0.35, 0.8);
  tpt_battery_add_fan (figure, sample_instant ("2026-05-21"), -0.1, 0, 0.4);
  return figure;
}

static void
test_csv (void)
{
  g_autoptr (TptFigure) figure = make_battery ();
  g_autofree char *csv = tpt_figure_csv (figure);

  /* in the order of time, a reading before the swap it led to; shares held within 0 to 1 */
  g_assert_cmpstr (csv, ==,
                   "item,at,percent,percent_p10,percent_p90,station\r\n"
                   "taken-as-full,2026-03-02T08:00:00+08:00,100,,,Otter bank\r\n"
                   "read-percent,2026-04-10T10:00:00+08:00,29,,,Otter bank\r\n"
                   "renewed,2026-04-10T10:00:00+08:00,100,,,Otter bank\r\n"
                   "read-volts,2026-04-20T10:00:00+08:00,80,60,95,\r\n"
                   "forecast,2026-05-01T00:00:00+08:00,70,50,90,\r\n"
                   "forecast,2026-05-11T00:00:00+08:00,35,0,80,\r\n"
                   "forecast,2026-05-21T00:00:00+08:00,0,0,40,\r\n");
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
    { "2026-03-02T08:00", 1, TPT_HIT_READING, "2 March 2026 08:00, Otter bank: taken as full when set out" },
    { "2026-04-10T10:00", 0.29, TPT_HIT_READING, "10 April 2026 10:00, Otter bank: 29 % left" },
    { "2026-04-10T10:00", 1, TPT_HIT_READING, "10 April 2026 10:00, Otter bank: cells swapped or charged" },
    { "2026-04-20T10:00", 0.8, TPT_HIT_READING, "20 April 2026 10:00, 80 % left by its volts, likely 60 to 95 %" },
    { "2026-05-05", 0.5, TPT_HIT_FORECAST, "1 May 2026: 70 % left, with a chance of 80 % between 50 and 90 %" },
    { "2026-03-20", 0.1, TPT_HIT_NOTHING, NULL },
  };
  g_autoptr (TptFigure) figure = make_battery ();
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

/* What the words say of the end follows from where the edges of the fan come down. */
static void
test_end (void)
{
  static const struct {
    double low, mid, high; /* at the last moment */
    const char *says;
  } cases[] = {
    { 0.2, 0.4, 0.6, "Lasts until 21 May 2026 at least, with a chance of 90 %." },
    { 0, 0.2, 0.3, "Will not give out before 21 May 2026, with a chance of 90 %." },
    { 0, 0, 0, "Gives out between 21 May 2026 and 21 May 2026, with a chance of 80 %." },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptZone) zone = sample_zone ();
      TptRange range = { sample_instant ("2026-03-01"), sample_instant ("2026-06-01") };
      g_autoptr (TptFigure) figure = tpt_battery_new (range, zone, sample_instant ("2026-05-01"));
      g_autofree char *words = NULL;

      tpt_battery_add_fan (figure, sample_instant ("2026-05-01"), 0.5, 0.7, 0.9);
      tpt_battery_add_fan (figure, sample_instant ("2026-05-21"), cases[i].low, cases[i].mid, cases[i].high);
      words = tpt_figure_describe (figure);
      g_assert_nonnull (strstr (words, cases[i].says));
    }
}

static void
test_words (void)
{
  g_autoptr (TptFigure) figure = make_battery ();
  g_autofree char *words = NULL;

  tpt_battery_set_no_forecast (figure, "cannot say because it is in no rig");
  words = tpt_figure_describe (figure);
  g_assert_nonnull (strstr (words, "Charge of one unit through time, 1 March 2026 to 31 May 2026: 2 readings, renewed 1 time."));
  g_assert_nonnull (strstr (words, "No forecast: cannot say because it is in no rig."));
}

/* The same bytes twice, and a whole picture also where there is nothing to draw. */
static void
test_drawing (void)
{
  g_autoptr (TptZone) zone = sample_zone ();
  TptRange range = { sample_instant ("2026-03-01"), sample_instant ("2026-06-01") };
  g_autoptr (TptFigure) bare = tpt_battery_new (range, zone, sample_instant ("2026-05-01"));
  g_autoptr (TptFigure) full = make_battery ();
  TptFigure *figures[] = { bare, full };
  g_autofree char *path = g_build_filename (g_get_tmp_dir (), "test-battery.svg", NULL);
  TptFigureSize size = TPT_FIGURE_SIZE_INIT;
  char *texts[2][2] = { { NULL } };

  for (guint i = 0; i < 2; i++)
    for (guint again = 0; again < 2; again++)
      {
        g_autoptr (GError) error = NULL;

        tpt_figure_export (figures[i], path, &size, &style, &error);
        g_assert_no_error (error);
        g_assert_true (g_file_get_contents (path, &texts[i][again], NULL, NULL));
      }
  g_unlink (path);
  g_assert_cmpstr (texts[0][0], ==, texts[0][1]);
  g_assert_cmpstr (texts[1][0], ==, texts[1][1]);
  g_assert_cmpstr (texts[0][0], !=, texts[1][0]);
  for (guint i = 0; i < 4; i++)
    g_clear_pointer (&texts[i / 2][i % 2], g_free);
}

int
main (int argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/battery/csv", test_csv);
  g_test_add_func ("/figures/battery/hits", test_hits);
  g_test_add_func ("/figures/battery/end", test_end);
  g_test_add_func ("/figures/battery/words", test_words);
  g_test_add_func ("/figures/battery/drawing", test_drawing);
  return g_test_run ();
}
