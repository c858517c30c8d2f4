#include "tpt-track.h"

#include <string.h>

TptTrack *
tpt_track_new (const char *kind, const char *name, gboolean area)
{
  TptTrack *self = g_new0 (TptTrack, 1);

  self->kind = g_strdup (kind);
  self->name = g_strdup (name);
  self->area = area;
  self->points = g_array_new (FALSE, FALSE, sizeof (double));
  self->lengths = g_array_new (FALSE, FALSE, sizeof (guint));
  return self;
}

void
tpt_track_add_point (TptTrack *self, double latitude, double longitude)
{
  double pair[2] = { latitude, longitude };

  g_array_append_vals (self->points, pair, 2);
}

void
tpt_track_end_line (TptTrack *self)
{
  guint before = 0, open;

  for (guint i = 0; i < self->lengths->len; i++)
    before += g_array_index (self->lengths, guint, i);
  open = self->points->len / 2 - before;
  if (open < 2)
    g_array_set_size (self->points, 2 * before);
  else
    g_array_append_val (self->lengths, open);
}

void
tpt_track_free (TptTrack *self)
{
  g_free (self->uuid);
  g_free (self->name);
  g_free (self->kind);
  g_free (self->source);
  g_array_unref (self->points);
  g_array_unref (self->lengths);
  g_free (self);
}

const char *
tpt_track_guess_kind (const char *type, const char *name, gboolean area)
{
  static const struct {
    const char *word;
    const char *kind;
  } words[] = {
    { "river", "river" },   { "stream", "river" },   { "creek", "river" },   { "lake", "water" },     { "pond", "water" },
    { "water", "water" },   { "road", "road" },      { "boundary", "boundary" }, { "border", "boundary" },
    { "reserve", "boundary" }, { "trail", "trail" }, { "path", "trail" },    { "track", "trail" },    { "walk", "trail" },
  };
  g_autofree char *text = g_strconcat (type != NULL ? type : "", " ", name != NULL ? name : "", NULL);
  g_autofree char *lower = g_utf8_strdown (text, -1);

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (strstr (lower, words[i].word) != NULL)
      return words[i].kind;
  return area ? "boundary" : "trail";
}
