#include "figure-samples.h"

#include <string.h>

/* Sum of what an interval leaves on white, left of, on and right of the axis. */
static void
draw_interval (TptInterval interval,
               guint ink[3])
{
  g_autoptr (TptZone) zone = sample_zone ();
  TptTimeAxis axis = { { sample_instant ("2026-03-01"), sample_instant ("2026-03-31") }, 100, 400, zone };
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, 500, 20);
  cairo_t *cr = cairo_create (surface);

  tpt_interval_bar_draw (cr, &axis, &interval, 10, 4, TPT_PALETTE_LIGHT);
  cairo_surface_flush (surface);
  memset (ink, 0, 3 * sizeof *ink);
  for (int x = 0; x < 500; x++)
    for (int y = 0; y < 20; y++)
      ink[x < 93 ? 0 : x < 407 ? 1 : 2] += cairo_image_surface_get_data (surface)[y * cairo_image_surface_get_stride (surface) + x];
  cairo_destroy (cr);
  cairo_surface_destroy (surface);
}

/* Whatever the interval, nothing is drawn beside the axis, and something on it
 * unless there is no forecast. */
static void
test_intervals_stay_on_the_axis (void)
{
  static const struct {
    const char *p10, *p50, *p90;
    gboolean drawn;
  } cases[] = {
    { "2026-03-05", "2026-03-10", "2026-03-20", TRUE },
    { "2026-03-05", "2026-03-10", NULL, TRUE },
    { "2026-03-05", NULL, NULL, TRUE },
    { "2026-02-05", "2026-03-10", "2026-05-20", TRUE },
    { "2026-02-05", "2026-02-06", "2026-02-07", TRUE },
    { "2026-04-05", "2026-05-06", NULL, TRUE },
    { "2026-03-05", "2026-03-05", "2026-03-05", TRUE },
    { NULL, NULL, NULL, FALSE },
  };

  for (guint i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      TptInterval interval = { cases[i].p10 != NULL ? sample_instant (cases[i].p10) : TPT_NO_INSTANT,
                               cases[i].p50 != NULL ? sample_instant (cases[i].p50) : TPT_NO_INSTANT,
                               cases[i].p90 != NULL ? sample_instant (cases[i].p90) : TPT_NO_INSTANT, TPT_STATE_SOON };
      guint ink[3];

      draw_interval (interval, ink);
      g_assert_cmpuint (ink[0], ==, 0);
      g_assert_cmpuint (ink[2], ==, 0);
      g_assert_cmpint (ink[1] > 1000, ==, cases[i].drawn);
    }
}

int
main (int argc,
      char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/figures/interval/on-the-axis", test_intervals_stay_on_the_axis);
  return g_test_run ();
}
