/* Frames and their triggers, found by what is asked of them and read by rows.
 *
 * Only batches that count, and only triggers that have frames, exist here. A
 * frame without a trigger (one without a time) stands for a trigger of its own.
 */
#pragma once

#include "tpt-store.h"

G_BEGIN_DECLS

/**
 * TptFrameWish: what is asked of frames.
 * @batch: (nullable): code
 * @stations: (nullable): codes
 * @species: (nullable): integer keys, as from tpt_store_find_species()
 * @types: (nullable): of observations that count: choices of that column and nothing else
 * @range: of instants; half-open
 * @certainty_below: an observation that counts is less certain; NAN for any
 * @undecided: of triggers nobody has said anything of; frames without a trigger
 *   cannot be decided and are left out
 * @disagreeing: of triggers on which people differ
 * @marked: of triggers with a frame good for guests
 * @every_frame: otherwise the first of each trigger
 *
 * @species, @types and @certainty_below are asked of one and the same observation.
 */
typedef struct {
  const char *batch;
  const char *const *stations;
  GArray *species;
  const char *const *types;
  TptRange range;
  double certainty_below;
  gboolean undecided;
  gboolean disagreeing;
  gboolean marked;
  gboolean every_frame;
} TptFrameWish;

/* A frame that was found. */
typedef struct {
  gint64 frame_id;
  gint64 trigger_id; /* 0: none */
  TptInstant at;     /* of the frame, or %TPT_NO_INSTANT */
  TptInstant start;  /* of its trigger, else = at */
  double blank_score; /* of its trigger, or NAN */
  gboolean decided;   /* of its trigger */
} TptFoundFrame;

/* (element-type TptFoundFrame): in no order that means anything. */
GArray *tpt_store_find_frames (TptStore *self, const TptFrameWish *wish, GError **error);

/* (element-type gint64): species called any of @names (scientific or common, as
 * tpt_fold_text() makes them alike); TPT_ERROR_DATA names the first that none is called. */
GArray *tpt_store_find_species (TptStore *self, const char *const *names, GError **error);

/* One frame with what it belongs to. */
typedef struct {
  gint64 frame_id;
  gint64 trigger_id;
  char *frame;
  char *file; /* relative to the project's folder */
  char *sha256;
  char *kind;
  char *camera_time;
  char *time_source;
  char *damage;
  TptInstant at;
  double temperature_c;
  int flash; /* -1 unknown */
  int place;
  int n_frames;
  double blank_score;
  char *station;
  char *station_name;
  double latitude, longitude; /* or NAN */
  char *deployment;
  char *batch;
  gboolean marked;
} TptFrameDetail;

void tpt_frame_detail_clear (TptFrameDetail *facts);

/* %FALSE without @error when there is no such frame that counts. */
gboolean tpt_store_read_frame (TptStore *self, gint64 frame_id, TptFrameDetail *facts, GError **error);

/* (element-type gint64): frames of a trigger by time. */
GArray *tpt_store_list_trigger_frames (TptStore *self, gint64 trigger_id, GError **error);

/* 0 without @error when there is none that counts. */
gint64 tpt_store_find_frame_id (TptStore *self, const char *code, gint64 *trigger_id, GError **error);

/* How far the naming of a batch is. */
typedef struct {
  char *batch;
  char *deployment;
  char *station;
  char *station_name;
  TptInstant taken_at, first, last;
  gint64 frames, triggers, undecided, disagreements, scored, set_aside;
} TptBatchProgress;

/* (element-type TptBatchProgress): newest first. */
GArray *tpt_store_read_progress (TptStore *self, GError **error);

/**
 * tpt_store_link_observations:
 * @deployment_id: 0 for all
 *
 * Inside an action. An observation that names neither trigger nor frame gets the
 * trigger of its deployment that its start lies in, else the first that starts
 * within its span.
 */
gboolean tpt_store_link_observations (TptStore *self, gint64 deployment_id, GError **error);

/* Inside an action. Takes its trigger from an observation that was moved away
 * from it, to another time or another deployment. */
gboolean tpt_store_unlink_stray (TptStore *self, gint64 observation_id, GError **error);

G_END_DECLS
