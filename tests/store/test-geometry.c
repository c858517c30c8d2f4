/* The layout of a blob: OGC 12-128r17, clause 2.1.3, and the well-known binary
 * of ISO 13249-3: type + 1000 for Z, 2000 for M, 3000 for both. The older form
 * with the top bits set is common practice, no source. */
#include "config.h"

#include <math.h>
#include <string.h>

#include "tpt-geometry.h"

typedef struct {
  GByteArray *out;
  gboolean big;
} Maker;

static void
put_byte (Maker *m, guint8 byte)
{
  g_byte_array_append (m->out, &byte, 1);
}

static void
put_u32 (Maker *m, guint32 value)
{
  guint32 ordered = m->big ? GUINT32_TO_BE (value) : GUINT32_TO_LE (value);

  g_byte_array_append (m->out, (const guint8 *) &ordered, sizeof ordered);
}

static void
put_double (Maker *m, double value)
{
  guint64 bits;

  memcpy (&bits, &value, sizeof bits);
  bits = m->big ? GUINT64_TO_BE (bits) : GUINT64_TO_LE (bits);
  g_byte_array_append (m->out, (const guint8 *) &bits, sizeof bits);
}

static void
put_head (Maker *m, guint envelope)
{
  static const guint doubles[] = { 0, 4, 6, 6, 8 };

  put_byte (m, 'G');
  put_byte (m, 'P');
  put_byte (m, 0);
  put_byte (m, (guint8) (envelope << 1 | !m->big));
  put_u32 (m, 4326);
  for (guint i = 0; envelope < G_N_ELEMENTS (doubles) && i < doubles[envelope]; i++)
    put_double (m, 77);
}

static void
put_type (Maker *m, guint32 type)
{
  put_byte (m, !m->big);
  put_u32 (m, type);
}

/* Points x = 10 + i, y = 20 + i, and 99 for what comes after. */
static void
put_points (Maker *m, guint n, guint dimensions)
{
  for (guint i = 0; i < n; i++)
    {
      put_double (m, 10 + i);
      put_double (m, 20 + i);
      for (guint d = 2; d < dimensions; d++)
        put_double (m, 99);
    }
}

static void
put_line (Maker *m, guint n, guint dimensions)
{
  put_u32 (m, n);
  put_points (m, n, dimensions);
}

static const struct {
  const char *what;
  guint32 add;
  guint dimensions;
} forms[] = {
  { "plain", 0, 2 },
  { "ISO Z", 1000, 3 },
  { "ISO M", 2000, 3 },
  { "ISO ZM", 3000, 4 },
  { "older Z", 0x80000000u, 3 },
  { "older M", 0x40000000u, 3 },
  { "older ZM", 0xc0000000u, 4 },
};

static void
test_points (void)
{
  for (guint big = 0; big < 2; big++)
    for (guint envelope = 0; envelope < 7; envelope++)
      for (gsize i = 0; i < G_N_ELEMENTS (forms); i++)
        {
          g_autoptr (GByteArray) out = g_byte_array_new ();
          Maker m = { out, (gboolean) big };
          double latitude = 0, longitude = 0;
          gboolean good = envelope <= 4; /* 5 to 7 are invalid by the standard */

          g_test_message ("%s, %s, envelope %u", big ? "big" : "little", forms[i].what, envelope);
          put_head (&m, envelope);
          put_type (&m, 1 + forms[i].add);
          put_points (&m, 1, forms[i].dimensions);
          g_assert_cmpint (tpt_geometry_to_point (out->data, out->len, &latitude, &longitude), ==, good);
          g_assert_cmpfloat (latitude, ==, good ? 20 : 0);
          g_assert_cmpfloat (longitude, ==, good ? 10 : 0);
        }
}

/* What is no position: empty points are written with NaN. */
static void
test_no_points (void)
{
  static const struct {
    guint32 type;
    double x, y;
  } cases[] = {
    { 1, NAN, NAN },
    { 1, NAN, 2 },
    { 1, 1, NAN },
    { 1, INFINITY, 2 },
    { 1, 1, -INFINITY },
    { 2, 1, 2 },
    { 4, 1, 2 },
  };
  double latitude, longitude;

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GByteArray) out = g_byte_array_new ();
      Maker m = { out, FALSE };

      put_head (&m, 0);
      put_type (&m, cases[i].type);
      put_double (&m, cases[i].x);
      put_double (&m, cases[i].y);
      g_assert_false (tpt_geometry_to_point (out->data, out->len, &latitude, &longitude));
    }
  g_assert_false (tpt_geometry_to_point (NULL, 0, &latitude, &longitude));
}

/* WKB types: 2 line, 3 polygon, 5 lines, 6 polygons. */
static void
put_shape (Maker *m, guint type, guint32 add, guint dimensions)
{
  put_type (m, type + add);
  switch (type)
    {
    case 2:
      put_line (m, 3, dimensions);
      break;
    case 3:
      put_u32 (m, 2);
      put_line (m, 5, dimensions);
      put_line (m, 4, dimensions);
      break;
    default:
      put_u32 (m, 2);
      put_shape (m, type == 5 ? 2 : 3, add, dimensions);
      put_shape (m, type == 5 ? 2 : 3, add, dimensions);
    }
}

static const struct {
  guint type;
  gboolean area;
  guint lines;
  guint points;
} shapes[] = {
  { 2, FALSE, 1, 3 },
  { 3, TRUE, 2, 9 },
  { 5, FALSE, 2, 6 },
  { 6, TRUE, 4, 18 },
};

/* The arrays keep what was in them; a shape is appended whole or not at all. */
static void
test_shapes (void)
{
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GArray) lengths = g_array_new (FALSE, FALSE, sizeof (guint));
  double mark = -1;
  gboolean area;

  g_array_append_val (points, mark);
  for (guint big = 0; big < 2; big++)
    for (gsize s = 0; s < G_N_ELEMENTS (shapes); s++)
      for (gsize i = 0; i < G_N_ELEMENTS (forms); i++)
        {
          g_autoptr (GByteArray) out = g_byte_array_new ();
          Maker m = { out, (gboolean) big };

          g_test_message ("type %u, %s, %s", shapes[s].type, big ? "big" : "little", forms[i].what);
          put_head (&m, 1);
          put_shape (&m, shapes[s].type, forms[i].add, forms[i].dimensions);
          for (guint cut = 0; cut < out->len; cut++)
            g_assert_false (tpt_geometry_to_lines (out->data, cut, points, lengths, &area));
          g_assert_cmpuint (points->len, ==, 1);
          g_assert_cmpuint (lengths->len, ==, 0);

          g_assert_true (tpt_geometry_to_lines (out->data, out->len, points, lengths, &area));
          g_assert_cmpint (area, ==, shapes[s].area);
          g_assert_cmpuint (lengths->len, ==, shapes[s].lines);
          g_assert_cmpuint (points->len, ==, 1 + 2 * shapes[s].points);
          g_assert_cmpfloat (g_array_index (points, double, 1), ==, 20); /* latitude first */
          g_assert_cmpfloat (g_array_index (points, double, 2), ==, 10);
          g_array_set_size (points, 1);
          g_array_set_size (lengths, 0);
        }
}

/* Shapes that are none: what a damaged or hostile file may hold. */
static void
test_no_shapes (void)
{
  static const guint32 huge[] = { 0xffffffffu, 0x7fffffffu, 0x20000000u, 1000 };
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GArray) lengths = g_array_new (FALSE, FALSE, sizeof (guint));
  gboolean area;

  for (guint type = 0; type < 9; type++)
    for (gsize i = 0; i < G_N_ELEMENTS (huge); i++)
      {
        g_autoptr (GByteArray) out = g_byte_array_new ();
        Maker m = { out, FALSE };

        put_head (&m, 0);
        put_type (&m, type);
        put_u32 (&m, huge[i]); /* a count the blob cannot hold */
        put_points (&m, 4, 2);
        g_assert_false (tpt_geometry_to_lines (out->data, out->len, points, lengths, &area));
      }
  {
    g_autoptr (GByteArray) out = g_byte_array_new ();
    Maker m = { out, FALSE };

    put_head (&m, 0);
    for (guint depth = 0; depth < 5000; depth++) /* lines of lines of lines */
      {
        put_type (&m, 5);
        put_u32 (&m, 1);
      }
    g_assert_false (tpt_geometry_to_lines (out->data, out->len, points, lengths, &area));
  }
  {
    g_autoptr (GByteArray) out = g_byte_array_new ();
    Maker m = { out, FALSE };

    put_head (&m, 0);
    put_type (&m, 2);
    put_u32 (&m, 2);
    put_points (&m, 1, 2);
    put_double (&m, NAN);
    put_double (&m, 1);
    g_assert_false (tpt_geometry_to_lines (out->data, out->len, points, lengths, &area));
  }
  g_assert_cmpuint (points->len + lengths->len, ==, 0);
}

/* What we write comes back, with its envelope: minx, maxx, miny, maxy. */
static void
test_round_trip (void)
{
  static const struct {
    guint lengths[3];
    guint n;
    gboolean area;
    gsize size; /* 8 of header, 32 of envelope, then counted by hand */
  } cases[] = {
    { { 2 }, 1, FALSE, 40 + 9 + 2 * 16 },
    { { 2, 3 }, 2, FALSE, 40 + 9 + 2 * 9 + 5 * 16 },
    { { 4 }, 1, TRUE, 40 + 9 + 4 + 4 * 16 },
    { { 4, 5 }, 2, TRUE, 40 + 9 + 2 * 4 + 9 * 16 },
  };
  static const double values[] = { 1.5, -7, 3, 4, 5, 179.9996, -16.85, 8, 1.5, -7, 2, 3, 4, 5, 6, 7, 8, 9 };

  for (gsize i = 0; i < G_N_ELEMENTS (cases); i++)
    {
      g_autoptr (GBytes) blob = tpt_geometry_from_lines (values, cases[i].lengths, cases[i].n, cases[i].area);
      g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (double));
      g_autoptr (GArray) lengths = g_array_new (FALSE, FALSE, sizeof (guint));
      gboolean area;
      gsize size;
      const guint8 *data = g_bytes_get_data (blob, &size);

      g_assert_cmpuint (size, ==, cases[i].size);
      g_assert_cmpuint (data[3], ==, 0x03);
      g_assert_true (tpt_geometry_to_lines (data, size, points, lengths, &area));
      g_assert_cmpint (area, ==, cases[i].area);
      g_assert_cmpmem (lengths->data, lengths->len * sizeof (guint), cases[i].lengths, cases[i].n * sizeof (guint));
      g_assert_cmpmem (points->data, points->len * sizeof (double), values, points->len * sizeof (double));
    }
  {
    g_autoptr (GBytes) blob = tpt_geometry_from_lines (values, (guint[]){ 4 }, 1, FALSE);
    const double box[] = { -7, 179.9996, -16.85, 5 };

    if (G_BYTE_ORDER == G_LITTLE_ENDIAN)
      g_assert_cmpmem ((const guint8 *) g_bytes_get_data (blob, NULL) + 8, sizeof box, box, sizeof box);
  }
  {
    g_autoptr (GBytes) blob = tpt_geometry_from_point (-16.85, 179.9996);
    gsize size;
    const guint8 *data = g_bytes_get_data (blob, &size);
    double latitude, longitude;

    g_assert_cmpuint (size, ==, 29);
    g_assert_true (tpt_geometry_to_point (data, size, &latitude, &longitude));
    g_assert_cmpfloat (latitude, ==, -16.85);
    g_assert_cmpfloat (longitude, ==, 179.9996);
    for (gsize cut = 0; cut < size; cut++)
      g_assert_false (tpt_geometry_to_point (data, cut, &latitude, &longitude));
  }
}

/* Noise over good blobs: never a crash, never half a shape. */
static void
test_noise (void)
{
  g_autoptr (GRand) chance = g_rand_new_with_seed (7);
  g_autoptr (GArray) points = g_array_new (FALSE, FALSE, sizeof (double));
  g_autoptr (GArray) lengths = g_array_new (FALSE, FALSE, sizeof (guint));

  for (int i = 0; i < 20000; i++)
    {
      g_autoptr (GByteArray) out = g_byte_array_new ();
      Maker m = { out, g_rand_boolean (chance) };
      double latitude, longitude;
      guint total = 0;
      gboolean area;

      put_head (&m, (guint) g_rand_int_range (chance, 0, 5));
      put_shape (&m, shapes[i % 4].type, forms[i % 7].add, forms[i % 7].dimensions);
      for (int k = 0; k < 4; k++)
        out->data[g_rand_int_range (chance, 0, (gint32) out->len)] = (guint8) g_rand_int (chance);
      tpt_geometry_to_point (out->data, out->len, &latitude, &longitude);
      if (tpt_geometry_to_lines (out->data, (gsize) g_rand_int_range (chance, 0, (gint32) out->len + 1), points, lengths, &area))
        for (guint l = 0; l < lengths->len; l++)
          total += g_array_index (lengths, guint, l);
      g_assert_cmpuint (points->len, ==, 2 * total);
      g_array_set_size (points, 0);
      g_array_set_size (lengths, 0);
    }
}

int
main (int argc, char *argv[])
{
  g_test_init (&argc, &argv, G_TEST_OPTION_ISOLATE_DIRS, NULL);
  g_test_add_func ("/geometry/points", test_points);
  g_test_add_func ("/geometry/no-points", test_no_points);
  g_test_add_func ("/geometry/shapes", test_shapes);
  g_test_add_func ("/geometry/no-shapes", test_no_shapes);
  g_test_add_func ("/geometry/round-trip", test_round_trip);
  g_test_add_func ("/geometry/noise", test_noise);
  return g_test_run ();
}
