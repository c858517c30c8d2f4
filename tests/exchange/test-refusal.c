#include "config.h"

#include "tpt-refusal.h"

static void
test_to_string (void)
{
  static const struct {
    const char *file;
    gint64 line;
    const char *column;
    const char *expected;
  } cases[] = {
    { "stations.csv", 3, "latitude", "stations.csv, line 3, latitude: why" },
    { "stations.csv", 3, NULL, "stations.csv, line 3: why" },
    { "places.geojson", 0, "features[3].geometry", "places.geojson, features[3].geometry: why" },
    { NULL, 0, NULL, "why" },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GPtrArray) refusals = tpt_refusals_new ();
      g_autofree char *text = NULL;

      tpt_refusals_add (refusals, cases[i].file, cases[i].line, cases[i].column, "why");
      text = tpt_refusal_to_string (g_ptr_array_index (refusals, 0));
      g_assert_cmpstr (text, ==, cases[i].expected);
    }
}

static void
test_kept (void)
{
  g_autoptr (GPtrArray) refusals = tpt_refusals_new ();

  tpt_refusals_add (refusals, "a", 1, NULL, "lost");
  for (guint i = 0; i < TPT_REFUSALS_MAX + 5; i++)
    tpt_refusals_add_kept (refusals, "a", 1, NULL, "kept");
  g_assert_cmpuint (refusals->len, ==, TPT_REFUSALS_MAX);
  g_assert_cmpuint (tpt_refusals_count_lost (refusals), ==, 1);

  /* What is lost is listed even then. */
  tpt_refusals_add (refusals, "a", 2, NULL, "lost");
  g_assert_cmpuint (tpt_refusals_count_lost (refusals), ==, 2);
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/refusal/to-string", test_to_string);
  g_test_add_func ("/refusal/kept", test_kept);
  return g_test_run ();
}
