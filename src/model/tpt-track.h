/* A trail, a river, a boundary: lines or rings with a kind and a name. */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * TptTrack:
 * @kind: trail, road, river, water, boundary, place or other
 * @area: the lines are closed rings
 * @points: latitude, longitude pairs in degrees, all lines one after the other
 * @lengths: points of each line
 */
typedef struct {
  gint64 id;
  char *uuid;      /* (owned) (nullable) */
  char *name;      /* (owned) (nullable) */
  char *kind;      /* (owned) */
  char *source;    /* (owned) (nullable): name of the file it came from */
  gboolean area;
  GArray *points;  /* (owned) (element-type double) */
  GArray *lengths; /* (owned) (element-type guint) */
} TptTrack;

TptTrack *tpt_track_new (const char *kind, const char *name, gboolean area);
void tpt_track_add_point (TptTrack *self, double latitude, double longitude);
/* Ends the line that the points since the last end make; one of fewer than two
 * points is dropped. */
void tpt_track_end_line (TptTrack *self);
void tpt_track_free (TptTrack *self);

/* Of our words for kinds the one that fits best what a file calls it. */
const char *tpt_track_guess_kind (const char *type, const char *name, gboolean area);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptTrack, tpt_track_free)

G_END_DECLS
