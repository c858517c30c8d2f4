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
