#include "config.h"

#include "tpt-feature.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-error.h"

TptVertex
tpt_vertex_make (double latitude, double longitude)
{
  return (TptVertex) { latitude, longitude, NAN, { TPT_NO_INSTANT, TPT_NO_OFFSET } };
}

TptInstant
tpt_vertex_get_instant (const TptVertex *vertex)
{
  if (vertex->time.clock_ms == TPT_NO_INSTANT || vertex->time.offset_s == TPT_NO_OFFSET)
    return TPT_NO_INSTANT;
  return vertex->time.clock_ms - vertex->time.offset_s * TPT_SECOND;
}

static void
free_property (gpointer data)
{
  TptProperty *property = data;

  g_free (property->name);
  g_free (property->value);
  g_free (property);
}

TptFeature *
tpt_feature_new (TptFeatureKind kind)
{
  TptFeature *feature = g_new0 (TptFeature, 1);

  feature->kind = kind;
  feature->hdop = NAN;
  feature->vertices = g_array_new (FALSE, FALSE, sizeof (TptVertex));
  feature->parts = g_array_new (FALSE, FALSE, sizeof (TptPart));
  feature->properties = g_ptr_array_new_with_free_func (free_property);
  return feature;
}

TptFeature *
tpt_feature_new_point (double latitude, double longitude)
{
  TptFeature *feature = tpt_feature_new (TPT_FEATURE_POINT);
  TptVertex vertex = tpt_vertex_make (latitude, longitude);

  tpt_feature_add_vertex (feature, &vertex);
  tpt_feature_end_part (feature, FALSE);
  return feature;
}

void
tpt_feature_free (TptFeature *feature)
{
  g_free (feature->id);
  g_free (feature->name);
  g_free (feature->comment);
  g_free (feature->description);
  g_free (feature->symbol);
  g_free (feature->type);
  g_array_unref (feature->vertices);
  g_array_unref (feature->parts);
  g_ptr_array_unref (feature->properties);
  g_free (feature);
}

static void
free_feature (gpointer data)
{
  tpt_feature_free (data);
}

GPtrArray *
tpt_features_new (void)
{
  return g_ptr_array_new_with_free_func (free_feature);
}

void
tpt_feature_add_vertex (TptFeature *feature, const TptVertex *vertex)
{
  g_array_append_val (feature->vertices, *vertex);
}

static guint
count_ended (const TptFeature *feature)
{
  const TptPart *last;

  if (feature->parts->len == 0)
    return 0;
  last = &g_array_index (feature->parts, TptPart, feature->parts->len - 1);
  return last->first + last->n_vertices;
}

guint
tpt_feature_count_open (const TptFeature *feature)
{
  return feature->vertices->len - count_ended (feature);
}

void
tpt_feature_drop_open (TptFeature *feature)
{
  g_array_set_size (feature->vertices, count_ended (feature));
}

void
tpt_feature_end_part (TptFeature *feature, gboolean hole)
{
  guint first = count_ended (feature);
  TptPart part = { first, feature->vertices->len - first, hole };

  if (part.n_vertices > 0)
    g_array_append_val (feature->parts, part);
}

const TptVertex *
tpt_feature_get_part (const TptFeature *feature, guint part, guint *n_vertices)
{
  const TptPart *found;

  g_return_val_if_fail (part < feature->parts->len, NULL);

  found = &g_array_index (feature->parts, TptPart, part);
  *n_vertices = found->n_vertices;
  return &g_array_index (feature->vertices, TptVertex, found->first);
}

void
tpt_feature_add_property (TptFeature *feature, const char *name, const char *value, TptPropertyType type)
{
  TptProperty *property = g_new0 (TptProperty, 1);

  property->name = g_strdup (name);
  property->value = g_strdup (value);
  property->type = type;
  g_ptr_array_add (feature->properties, property);
}

const char *
tpt_feature_get_property (const TptFeature *feature, const char *name)
{
  for (guint i = 0; i < feature->properties->len; i++)
    {
      const TptProperty *property = g_ptr_array_index (feature->properties, i);
      if (g_strcmp0 (property->name, name) == 0)
        return property->value;
    }
  return NULL;
}

static gboolean
check_vertices (const TptFeature *feature, GError **error)
{
  for (guint i = 0; i < feature->vertices->len; i++)
    {
      const TptVertex *vertex = &g_array_index (feature->vertices, TptVertex, i);

      /* Written so that NAN fails too. */
      if (!(fabs (vertex->latitude) <= 90 && fabs (vertex->longitude) <= 180) || isinf (vertex->elevation))
        {
          g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("Position %u is not on the globe"), i + 1);
          return FALSE;
        }
    }
  return TRUE;
}

static gboolean
is_closed (const TptVertex *ring, guint n_vertices)
{
  return ring[0].latitude == ring[n_vertices - 1].latitude && ring[0].longitude == ring[n_vertices - 1].longitude;
}

static gboolean
check_part (const TptFeature *feature, guint index, GError **error)
{
  static const guint fewest[] = { 1, 2, 4 };
  gboolean hole = g_array_index (feature->parts, TptPart, index).hole;
  guint n_vertices;
  const TptVertex *vertices = tpt_feature_get_part (feature, index, &n_vertices);

  if (n_vertices < fewest[feature->kind])
    g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("Part %u has too few positions (%u)"), index + 1, n_vertices);
  else if (feature->kind == TPT_FEATURE_AREA && !is_closed (vertices, n_vertices))
    g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("Ring %u does not end where it begins"), index + 1);
  else if (hole && (feature->kind != TPT_FEATURE_AREA || index == 0))
    g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("Part %u is a hole in nothing"), index + 1);
  else
    return TRUE;
  return FALSE;
}

gboolean
tpt_feature_check (const TptFeature *feature, GError **error)
{
  gboolean single = feature->vertices->len == 1 && feature->parts->len == 1;

  if (feature->parts->len == 0 || isinf (feature->hdop) || count_ended (feature) != feature->vertices->len ||
      (feature->kind == TPT_FEATURE_POINT && !single))
    {
      g_set_error (error, TPT_ERROR, TPT_ERROR_DATA, _("The shape is incomplete"));
      return FALSE;
    }
  for (guint i = 0; i < feature->parts->len; i++)
    if (!check_part (feature, i, error))
      return FALSE;
  return check_vertices (feature, error);
}
