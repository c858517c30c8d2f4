#include "config.h"

#include "tpt-track.h"

/* Points as letters, a bar ends a line: what is kept of it. */
static void
test_lines (void)
{
  static const struct {
    const char *steps;
    guint lines;
    guint points;
  } cases[] = {
    { "", 0, 0 },
    { "|", 0, 0 },
    { "p|", 0, 0 }, /* one point is no line */
    { "pp|", 1, 2 },
    { "p|pp|", 1, 2 },
    { "pp|p|", 1, 2 },
    { "pp||ppp|", 2, 5 },
    { "pp|pp", 1, 4 }, /* not ended yet */
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptTrack) track = tpt_track_new ("trail", "Ridge", FALSE);
      double latitude = 1;

      g_test_message ("%s", cases[i].steps);
      for (const char *step = cases[i].steps; *step != '\0'; step++)
        {
          if (*step == 'p')
            tpt_track_add_point (track, latitude++, 113);
          else
            tpt_track_end_line (track);
        }
      g_assert_cmpuint (track->lengths->len, ==, cases[i].lines);
      g_assert_cmpuint (track->points->len, ==, 2 * cases[i].points);
    }
}

/* Common practice, no source. */
static void
test_kinds (void)
{
  static const struct {
    const char *type;
    const char *name;
    gboolean area;
    const char *kind;
  } cases[] = {
    { NULL, "Kelabau River", FALSE, "river" },
    { "Stream", NULL, FALSE, "river" },
    { "hiking trail", NULL, FALSE, "trail" },
    { NULL, "Upper Lake", TRUE, "water" },
    { "road", "River road", FALSE, "river" }, /* the first word of the list that fits */
    { NULL, "RESERVE", TRUE, "boundary" },
    { NULL, NULL, TRUE, "boundary" },
    { NULL, NULL, FALSE, "trail" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    g_assert_cmpstr (tpt_track_guess_kind (cases[i].type, cases[i].name, cases[i].area), ==, cases[i].kind);
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/track/lines", test_lines);
  g_test_add_func ("/track/kinds", test_kinds);
  return g_test_run ();
}
