#include "tpt-frame-query.h"

#include <math.h>

TptFrameQuery *
tpt_frame_query_new (void)
{
  TptFrameQuery *self = g_new0 (TptFrameQuery, 1);

  self->range = (TptRange){ TPT_NO_INSTANT, TPT_NO_INSTANT };
  self->hour_from = self->hour_to = -1;
  self->certainty_below = NAN;
  self->blank_from = NAN;
  return self;
}

TptFrameQuery *
tpt_frame_query_copy (const TptFrameQuery *self)
{
  TptFrameQuery *copy = g_memdup2 (self, sizeof *self);

  copy->batch = g_strdup (self->batch);
  copy->stations = g_strdupv (self->stations);
  copy->species = g_strdupv (self->species);
  copy->types = g_strdupv (self->types);
  return copy;
}

void
tpt_frame_query_free (TptFrameQuery *self)
{
  g_free (self->batch);
  g_strfreev (self->stations);
  g_strfreev (self->species);
  g_strfreev (self->types);
  g_free (self);
}

static void
add_names (GVariantDict *dict, const char *key, GStrv names)
{
  if (names != NULL)
    g_variant_dict_insert_value (dict, key, g_variant_new_strv ((const char *const *) names, -1));
}

GVariant *
tpt_frame_query_to_variant (const TptFrameQuery *self)
{
  GVariantDict dict;

  g_variant_dict_init (&dict, NULL);
  add_names (&dict, "stations", self->stations);
  add_names (&dict, "species", self->species);
  add_names (&dict, "types", self->types);
  if (self->range.from != TPT_NO_INSTANT || self->range.to != TPT_NO_INSTANT)
    g_variant_dict_insert (&dict, "range", "(xx)", self->range.from, self->range.to);
  if (self->hour_from >= 0)
    g_variant_dict_insert (&dict, "hours", "(ii)", self->hour_from, self->hour_to);
  return g_variant_dict_end (&dict);
}

static void
look_up_names (GVariant *variant, const char *key, GStrv *names)
{
  g_variant_lookup (variant, key, "^as", names);
}

TptFrameQuery *
tpt_frame_query_from_variant (GVariant *variant)
{
  TptFrameQuery *self = tpt_frame_query_new ();

  look_up_names (variant, "stations", &self->stations);
  look_up_names (variant, "species", &self->species);
  look_up_names (variant, "types", &self->types);
  g_variant_lookup (variant, "range", "(xx)", &self->range.from, &self->range.to);
  g_variant_lookup (variant, "hours", "(ii)", &self->hour_from, &self->hour_to);
  return self;
}
