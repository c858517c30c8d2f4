#include "tpt-geometry.h"

#include <math.h>
#include <string.h>

#define SRS_WGS84 4326

enum {
  WKB_POINT = 1,
  WKB_LINESTRING = 2,
  WKB_POLYGON = 3,
  WKB_MULTILINESTRING = 5,
  WKB_MULTIPOLYGON = 6,
};

typedef struct {
  const guint8 *data;
  gsize left;
  gboolean little;
} Cursor;

static void
put_u32 (GByteArray *out, guint32 value)
{
  guint32 little = GUINT32_TO_LE (value);

  g_byte_array_append (out, (const guint8 *) &little, sizeof little);
}

static void
put_double (GByteArray *out, double value)
{
  guint64 bits;

  memcpy (&bits, &value, sizeof bits);
  bits = GUINT64_TO_LE (bits);
  g_byte_array_append (out, (const guint8 *) &bits, sizeof bits);
}

static void
put_wkb_head (GByteArray *out, guint32 type)
{
  g_byte_array_append (out, (const guint8 *) "\x01", 1);
  put_u32 (out, type);
}

/* flags: bit 0 little endian, bits 1-3 the kind of envelope. */
static void
put_head (GByteArray *out, guint8 flags)
{
  const guint8 magic[] = { 'G', 'P', 0, flags };

  g_byte_array_append (out, magic, sizeof magic);
  put_u32 (out, SRS_WGS84);
}

GBytes *
tpt_geometry_from_point (double latitude, double longitude)
{
  GByteArray *out = g_byte_array_new ();

  put_head (out, 0x01);
  put_wkb_head (out, WKB_POINT);
  put_double (out, longitude);
  put_double (out, latitude);
  return g_byte_array_free_to_bytes (out);
}

static void
put_envelope (GByteArray *out, const double *points, guint n_points)
{
  double box[4] = { INFINITY, -INFINITY, INFINITY, -INFINITY }; /* minx maxx miny maxy */

  for (guint i = 0; i < n_points; i++)
    {
      box[0] = MIN (box[0], points[2 * i + 1]);
      box[1] = MAX (box[1], points[2 * i + 1]);
      box[2] = MIN (box[2], points[2 * i]);
      box[3] = MAX (box[3], points[2 * i]);
    }
  for (int i = 0; i < 4; i++)
    put_double (out, box[i]);
}

static const double *
put_points (GByteArray *out, const double *points, guint n_points)
{
  put_u32 (out, n_points);
  for (guint i = 0; i < n_points; i++, points += 2)
    {
      put_double (out, points[1]);
      put_double (out, points[0]);
    }
  return points;
}

GBytes *
tpt_geometry_from_lines (const double *points, const guint *lengths, guint n_lines, gboolean area)
{
  GByteArray *out = g_byte_array_new ();
  guint total = 0;

  for (guint i = 0; i < n_lines; i++)
    total += lengths[i];

  put_head (out, 0x03);
  put_envelope (out, points, total);
  if (area || n_lines > 1)
    {
      put_wkb_head (out, area ? WKB_POLYGON : WKB_MULTILINESTRING);
      put_u32 (out, n_lines);
    }
  for (guint i = 0; i < n_lines; i++)
    {
      if (!area)
        put_wkb_head (out, WKB_LINESTRING);
      points = put_points (out, points, lengths[i]);
    }
  return g_byte_array_free_to_bytes (out);
}

static gboolean
take_u32 (Cursor *cursor, guint32 *value)
{
  if (cursor->left < sizeof *value)
    return FALSE;
  memcpy (value, cursor->data, sizeof *value);
  *value = cursor->little ? GUINT32_FROM_LE (*value) : GUINT32_FROM_BE (*value);
  cursor->data += sizeof *value;
  cursor->left -= sizeof *value;
  return TRUE;
}

static gboolean
take_double (Cursor *cursor, double *value)
{
  guint64 bits;

  if (cursor->left < sizeof bits)
    return FALSE;
  memcpy (&bits, cursor->data, sizeof bits);
  bits = cursor->little ? GUINT64_FROM_LE (bits) : GUINT64_FROM_BE (bits);
  memcpy (value, &bits, sizeof bits);
  cursor->data += sizeof bits;
  cursor->left -= sizeof bits;
  return TRUE;
}

/* Past the header and its envelope. */
static gboolean
open_blob (Cursor *cursor, const void *data, gsize size)
{
  static const guint8 envelope_bytes[] = { 0, 32, 48, 48, 64 };
  const guint8 *bytes = data;
  guint kind;

  if (data == NULL || size < 8 || bytes[0] != 'G' || bytes[1] != 'P')
    return FALSE;
  kind = (bytes[3] >> 1) & 7;
  if (kind >= G_N_ELEMENTS (envelope_bytes) || size < 8u + envelope_bytes[kind])
    return FALSE;
  cursor->data = bytes + 8 + envelope_bytes[kind];
  cursor->left = size - 8 - envelope_bytes[kind];
  return TRUE;
}

/* The type without Z and M, and how many doubles a point has: ISO numbers add
 * 1000, 2000, 3000; the older form sets the top bits. */
static gboolean
take_wkb_head (Cursor *cursor, guint32 *type, guint *dimensions)
{
  guint32 raw, thousands;

  if (cursor->left < 1)
    return FALSE;
  cursor->little = cursor->data[0] == 1;
  cursor->data++;
  cursor->left--;
  if (!take_u32 (cursor, &raw))
    return FALSE;

  *dimensions = 2 + ((raw & 0x80000000u) != 0) + ((raw & 0x40000000u) != 0);
  raw &= 0x0fffffffu;
  thousands = raw / 1000;
  if (thousands > 0)
    *dimensions = thousands == 3 ? 4 : 3;
  *type = raw % 1000;
  return TRUE;
}

gboolean
tpt_geometry_to_point (const void *data, gsize size, double *latitude, double *longitude)
{
  Cursor cursor;
  guint32 type;
  guint dimensions;
  double x, y;

  if (!open_blob (&cursor, data, size) || !take_wkb_head (&cursor, &type, &dimensions) || type != WKB_POINT ||
      !take_double (&cursor, &x) || !take_double (&cursor, &y) || !isfinite (x) || !isfinite (y))
    return FALSE;
  *latitude = y;
  *longitude = x;
  return TRUE;
}

static gboolean
take_points (Cursor *cursor, guint dimensions, GArray *points, GArray *lengths)
{
  guint32 n;

  if (!take_u32 (cursor, &n) || cursor->left / (dimensions * sizeof (double)) < n)
    return FALSE;
  for (guint32 i = 0; i < n; i++)
    {
      double values[4], pair[2];

      for (guint d = 0; d < dimensions; d++)
        take_double (cursor, &values[d]);
      pair[0] = values[1];
      pair[1] = values[0];
      if (!isfinite (pair[0]) || !isfinite (pair[1]))
        return FALSE;
      g_array_append_vals (points, pair, 2);
    }
  g_array_append_val (lengths, n);
  return TRUE;
}

static gboolean take_lines (Cursor *cursor, guint depth, GArray *points, GArray *lengths, gboolean *area);

static gboolean
take_parts (Cursor *cursor, guint depth, GArray *points, GArray *lengths, gboolean *area)
{
  guint32 n;

  if (!take_u32 (cursor, &n))
    return FALSE;
  for (guint32 i = 0; i < n; i++)
    if (!take_lines (cursor, depth + 1, points, lengths, area))
      return FALSE;
  return TRUE;
}

static gboolean
take_rings (Cursor *cursor, guint dimensions, GArray *points, GArray *lengths)
{
  guint32 n;

  if (!take_u32 (cursor, &n))
    return FALSE;
  for (guint32 i = 0; i < n; i++)
    if (!take_points (cursor, dimensions, points, lengths))
      return FALSE;
  return TRUE;
}

static gboolean
take_lines (Cursor *cursor, guint depth, GArray *points, GArray *lengths, gboolean *area)
{
  guint32 type;
  guint dimensions;

  if (depth > 1 || !take_wkb_head (cursor, &type, &dimensions))
    return FALSE;
  *area = type == WKB_POLYGON || type == WKB_MULTIPOLYGON;
  switch (type)
    {
    case WKB_LINESTRING:
      return take_points (cursor, dimensions, points, lengths);
    case WKB_POLYGON:
      return take_rings (cursor, dimensions, points, lengths);
    case WKB_MULTILINESTRING:
    case WKB_MULTIPOLYGON:
      return take_parts (cursor, depth, points, lengths, area);
    default:
      return FALSE;
    }
}

gboolean
tpt_geometry_to_lines (const void *data, gsize size, GArray *points, GArray *lengths, gboolean *area)
{
  guint had_points = points->len, had_lengths = lengths->len;
  Cursor cursor;

  if (open_blob (&cursor, data, size) && take_lines (&cursor, 0, points, lengths, area))
    return TRUE;
  g_array_set_size (points, had_points);
  g_array_set_size (lengths, had_lengths);
  return FALSE;
}
