#include "config.h"

#include <math.h>

#include "tpt-error.h"
#include "tpt-feature.h"

static void
test_parts (void)
{
  g_autoptr (TptFeature) line = tpt_feature_new (TPT_FEATURE_LINE);
  TptVertex vertex = tpt_vertex_make (1, 2);
  const TptVertex *part;
  guint n_vertices;

  for (int i = 0; i < 5; i++)
    {
      vertex.latitude = i;
      tpt_feature_add_vertex (line, &vertex);
      if (i == 1)
        tpt_feature_end_part (line, FALSE);
    }
  g_assert_cmpuint (tpt_feature_count_open (line), ==, 3);
  tpt_feature_end_part (line, FALSE);
  tpt_feature_end_part (line, FALSE); /* nothing open: nothing happens */
  g_assert_cmpuint (line->parts->len, ==, 2);
  part = tpt_feature_get_part (line, 1, &n_vertices);
  g_assert_cmpuint (n_vertices, ==, 3);
  g_assert_cmpfloat (part[0].latitude, ==, 2);

  tpt_feature_add_vertex (line, &vertex);
  tpt_feature_drop_open (line);
  g_assert_cmpuint (line->vertices->len, ==, 5);
  g_assert_true (tpt_feature_check (line, NULL));
}

static void
test_instant (void)
{
  TptVertex vertex = tpt_vertex_make (0, 0);

  g_assert_cmpint (tpt_vertex_get_instant (&vertex), ==, TPT_NO_INSTANT);
  g_assert_true (tpt_reading_parse ("2024-05-01T10:12:44", &vertex.time, NULL));
  g_assert_cmpint (tpt_vertex_get_instant (&vertex), ==, TPT_NO_INSTANT);
  g_assert_true (tpt_reading_parse ("2024-05-01T10:12:44+02:00", &vertex.time, NULL));
  g_assert_cmpint (tpt_vertex_get_instant (&vertex), ==, tpt_instant_parse ("2024-05-01T08:12:44Z", NULL, NULL));
}

static void
test_check (void)
{
  static const struct {
    TptFeatureKind kind;
    guint n;
    double positions[5][2];
    gboolean hole;
    gboolean good;
  } cases[] = {
    { TPT_FEATURE_POINT, 1, { { 90, 180 } }, FALSE, TRUE },
    { TPT_FEATURE_POINT, 1, { { 90.1, 0 } }, FALSE, FALSE },
    { TPT_FEATURE_POINT, 1, { { 0, -180.1 } }, FALSE, FALSE },
    { TPT_FEATURE_POINT, 1, { { NAN, 0 } }, FALSE, FALSE },
    { TPT_FEATURE_POINT, 2, { { 1, 1 }, { 2, 2 } }, FALSE, FALSE },
    { TPT_FEATURE_POINT, 0, { { 0 } }, FALSE, FALSE },
    { TPT_FEATURE_LINE, 2, { { 1, 1 }, { 2, 2 } }, FALSE, TRUE },
    { TPT_FEATURE_LINE, 1, { { 1, 1 } }, FALSE, FALSE },
    { TPT_FEATURE_LINE, 2, { { 1, 1 }, { 2, 2 } }, TRUE, FALSE },
    { TPT_FEATURE_AREA, 4, { { 1, 1 }, { 1, 2 }, { 2, 2 }, { 1, 1 } }, FALSE, TRUE },
    { TPT_FEATURE_AREA, 4, { { 1, 1 }, { 1, 2 }, { 2, 2 }, { 2, 1 } }, FALSE, FALSE },
    { TPT_FEATURE_AREA, 3, { { 1, 1 }, { 1, 2 }, { 1, 1 } }, FALSE, FALSE },
    { TPT_FEATURE_AREA, 4, { { 1, 1 }, { 1, 2 }, { 2, 2 }, { 1, 1 } }, TRUE, FALSE },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (TptFeature) feature = tpt_feature_new (cases[i].kind);
      g_autoptr (GError) error = NULL;

      for (guint j = 0; j < cases[i].n; j++)
        {
          TptVertex vertex = tpt_vertex_make (cases[i].positions[j][0], cases[i].positions[j][1]);
          tpt_feature_add_vertex (feature, &vertex);
        }
      tpt_feature_end_part (feature, cases[i].hole);
      g_assert_cmpint (tpt_feature_check (feature, &error), ==, cases[i].good);
      if (!cases[i].good)
        g_assert_error (error, TPT_ERROR, TPT_ERROR_DATA);
    }
}

int
main (int argc, char **argv)
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/feature/parts", test_parts);
  g_test_add_func ("/feature/instant", test_instant);
  g_test_add_func ("/feature/check", test_check);
  return g_test_run ();
}
