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
add_names (GVariantBuilder *builder, const char *key, GStrv names)
{
  if (names != NULL)
    g_variant_builder_add (builder, "{sv}", key, g_variant_new_strv ((const char *const *) names, -1));
}

GVariant *
tpt_frame_query_to_variant (const TptFrameQuery *self)
{
  GVariantBuilder builder;

  g_variant_builder_init (&builder, G_VARIANT_TYPE_VARDICT);
  add_names (&builder, "stations", self->stations);
  add_names (&builder, "species", self->species);
  add_names (&builder, "types", self->types);
  if (self->range.from != TPT_NO_INSTANT || self->range.to != TPT_NO_INSTANT)
    g_variant_builder_add (&builder, "{sv}", "range", g_variant_new ("(xx)", self->range.from, self->range.to));
  if (self->hour_from >= 0)
    g_variant_builder_add (&builder, "{sv}", "hours", g_variant_new ("(ii)", self->hour_from, self->hour_to));
  return g_variant_builder_end (&builder);
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
