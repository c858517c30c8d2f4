/* The questions findings and forecasts put to the project: bulk rows out,
 * arithmetic elsewhere.
 *
 * Only frames and triggers of batches that count are seen. Every function
 * returns %NULL (or %FALSE) with @error when the file fails.
 */
#pragma once

#include "tpt-store.h"
#include "tpt-track.h"

G_BEGIN_DECLS

/* What an observation of a named animal comes to, for detections. */
typedef struct {
  gint64 species_id;
  gint64 station_id;
  TptInstant start;
  TptInstant end; /* = start when unknown */
  int count;      /* 1 when unknown */
} TptSighting;

/**
 * tpt_store_read_sightings:
 * @range: half-open; start lies within; either end may be %TPT_NO_INSTANT
 *
 * Returns: (element-type TptSighting): by species, station, start
 */
GArray *tpt_store_read_sightings (TptStore *self, TptRange range, GError **error);

/* First and last trigger of a deployment, by their starts, and how busy it was. */
typedef struct {
  gint64 deployment_id;
  gint64 triggers;
  gint64 frames;
  TptInstant first;
  TptInstant last;
} TptSigns;

/* (element-type TptSigns): by deployment, of what was known at @on: frames up to
 * the last visit or the end that lie before it, later ones being still out on
 * a card. Deployments without such a frame are left out. */
GArray *tpt_store_read_signs (TptStore *self, TptInstant on, GError **error);

/* The same for one deployment, up to and including @until; zeros when there
 * is no frame. */
gboolean tpt_store_read_signs_of (TptStore *self, gint64 deployment_id, TptInstant until, TptSigns *signs, GError **error);

/* The last frame or observation of a deployment at or before @before, or
 * %TPT_NO_INSTANT (also with @error). */
TptInstant tpt_store_read_last_sign (TptStore *self, gint64 deployment_id, TptInstant before, GError **error);

/* (element-type TptInstant): frames of a station within @range, by time. */
GArray *tpt_store_read_frame_times (TptStore *self, gint64 station_id, TptRange range, GError **error);

/* The last reading of a unit known at some moment. */
typedef struct {
  gint64 unit_id;
  gint64 visit_id;
  TptInstant at;
  double volts;   /* or NAN */
  double percent; /* or NAN */
  char action[16];
  char state[16];
} TptLastReading;

/* (element-type TptLastReading): per unit the newest reading at or before @on. */
GArray *tpt_store_read_last_readings (TptStore *self, TptInstant on, GError **error);

/* (element-type TptTrack) */
GPtrArray *tpt_store_list_tracks (TptStore *self, GError **error);

/* Inside an action. A track of the same name with the same course is left
 * alone; @added tells. */
gboolean tpt_store_add_track (TptStore *self, const TptTrack *track, gboolean *added, GError **error);

G_END_DECLS
