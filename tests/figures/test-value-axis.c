#include "tpt-value-axis.h"

static const TptFigureStyle style = TPT_FIGURE_STYLE_INIT;

/* Steps of 1, 2 or 5 times a power of ten: common practice, no source. */
static void
test_steps (void)
{
  static const struct {
    double most;
    int ticks;
    gboolean whole;
    double step, to;
    const char *last;
  } cases[] = {
    { 1, 5, FALSE, 0.2, 1, "1.0" },
    { 1, 4, FALSE, 0.5, 1, "1.0" },
    { 9.8, 5, FALSE, 2, 10, "10" },
    { 10, 5, FALSE, 2, 10, "10" },       /* a tick on the greatest value is enough */
    { 10.01, 5, FALSE, 5, 15, "15" },
    { 0.3, 3, FALSE, 0.1, 0.3, "0.3" },  /* not 0.30000000000000004 and one more */
    { 0.07, 7, FALSE, 0.01, 0.07, "0.07" },
    { 1922, 4, TRUE, 500, 2000, "2,000" },
    { 3, 10, TRUE, 1, 3, "3" },          /* no half of a station */
    { 3, 10, FALSE, 0.5, 3, "3.0" },
    { 1, 1, TRUE, 1, 1, "1" },
    { 7, 1, FALSE, 10, 10, "10" },
    { 0, 5, FALSE, 0.2, 1, "1.0" },      /* nothing to show */
    { -3, 5, TRUE, 1, 1, "1" },
    { NAN, 5, TRUE, 1, 1, "1" },
    { INFINITY, 2, FALSE, 0.5, 1, "1.0" },
    { 4e-7, 4, FALSE, 1e-7, 4e-7, "0.0000004" },
    { 2.5e9, 5, TRUE, 5e8, 2.5e9, "2,500,000,000" },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptValueAxis axis;
      g_autofree char *last = NULL;

      tpt_value_axis_init (&axis, cases[i].most, cases[i].ticks, cases[i].whole);
      last = tpt_value_axis_label (&axis, tpt_value_axis_count (&axis) - 1);
      g_test_message ("%g in %d: step %.17g to %.17g, %s", cases[i].most, cases[i].ticks, axis.step, axis.to, last);
      /* the product of step and number of ticks is rounded once */
      g_assert_cmpfloat_with_epsilon (axis.step, cases[i].step, 1e-12 * cases[i].step);
      g_assert_cmpfloat_with_epsilon (axis.to, cases[i].to, 1e-12 * cases[i].to);
      g_assert_cmpstr (last, ==, cases[i].last);
    }
}

/* Whatever is to be shown: it fits, with no more ticks than asked, and no fewer than two of five. */
static void
test_every_size (void)
{
  for (double most = 1e-6; most < 1e9; most *= 1.07)
    for (int ticks = 1; ticks < 12; ticks++)
      {
        TptValueAxis axis;

        tpt_value_axis_init (&axis, most, ticks, FALSE);
        g_assert_cmpfloat (axis.to, >=, most * (1 - 1e-8));
        g_assert_cmpuint (tpt_value_axis_count (&axis) - 1, <=, ticks);
        g_assert_cmpuint (5 * (tpt_value_axis_count (&axis) - 1), >=, 2 * MAX (ticks, 2) - 1);
      }
}

static void
test_labels (void)
{
  TptValueAxis axis;
  g_autofree char *nought = NULL, *some = NULL;

  tpt_value_axis_init (&axis, 20, 4, FALSE);
  axis.percent = TRUE;
  nought = tpt_value_axis_label (&axis, 0);
  some = tpt_value_axis_label (&axis, 3);
  g_assert_cmpstr (nought, ==, "0 %");
  g_assert_cmpstr (some, ==, "15 %");
}

/* An end that the caller lowers has no tick beyond it. */
static void
test_lowered (void)
{
  TptValueAxis axis;

  tpt_value_axis_init (&axis, 13, 4, TRUE);
  g_assert_cmpfloat (axis.to, ==, 15);
  axis.to = 13;
  g_assert_cmpuint (tpt_value_axis_count (&axis), ==, 3);
}

static void
test_positions (void)
{
  TptValueAxis axis;

  tpt_value_axis_init (&axis, 8, 4, FALSE);
  axis.start = 200;
  axis.end = 40;
  g_assert_cmpfloat (tpt_value_axis_position (&axis, 0), ==, 200);
  g_assert_cmpfloat (tpt_value_axis_position (&axis, 8), ==, 40);
  g_assert_cmpfloat (tpt_value_axis_position (&axis, 2), ==, 160);
  g_assert_cmpfloat (tpt_value_axis_position (&axis, 9), ==, 20); /* beyond the end */
}

/* With the room it is told, no label on a level axis has to be left out. */
static void
test_room (void)
{
  static const double lengths[] = { 0, 5, 60, 240, 600, 1900 };

  for (guint i = 0; i < G_N_ELEMENTS (lengths); i++)
    for (double most = 0.07; most < 9999; most *= 1.9)
      {
        int ticks = tpt_value_axis_room (lengths[i], FALSE, &style);
        TptValueAxis axis;

        tpt_value_axis_init (&axis, most, ticks, FALSE);
        g_assert_cmpint (ticks, >=, 1);
        g_assert_cmpint (tpt_value_axis_room (lengths[i], TRUE, &style), >=, 1);
        if (tpt_value_axis_count (&axis) > 2)
          g_assert_cmpfloat (lengths[i] * axis.step / axis.to, >, tpt_value_axis_width (&axis, &style) + 4);
      }
}

int
main (int argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/value-axis/steps", test_steps);
  g_test_add_func ("/figures/value-axis/every-size", test_every_size);
  g_test_add_func ("/figures/value-axis/labels", test_labels);
  g_test_add_func ("/figures/value-axis/lowered", test_lowered);
  g_test_add_func ("/figures/value-axis/positions", test_positions);
  g_test_add_func ("/figures/value-axis/room", test_room);
  return g_test_run ();
}
