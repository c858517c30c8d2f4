/* A frame as a list shows it: known by its keys at once, filled in when its
 * page has been read. */
#pragma once

#include <glib-object.h>

#include "tpt-time.h"

G_BEGIN_DECLS

/**
 * TptSeen: one observation.
 * @observation: (owned): its code
 * @type: (owned): animal, human, vehicle, blank, unknown, unclassified
 * @species: (owned) (nullable): scientific name
 * @common: (owned) (nullable): name in the reader's language, where there is one
 * @count: 0 unknown
 * @sex: (owned) (nullable): female, male
 * @life_stage: (owned) (nullable): adult, subadult, juvenile
 * @behaviour: (owned) (nullable):
 * @individual: (owned) (nullable):
 * @notes: (owned) (nullable):
 * @certainty: 0 to 1; NAN unknown
 * @by: (owned) (nullable): who said so
 * @at: when, or %TPT_NO_INSTANT
 * @opinion: 1 counts; 2 and more are kept beside it, from 50 on with the difference settled
 */
typedef struct {
  char *observation;
  char *type;
  char *species;
  char *common;
  int count;
  char *sex;
  char *life_stage;
  char *behaviour;
  char *individual;
  char *notes;
  double certainty;
  char *by;
  TptInstant at;
  int opinion;
} TptSeen;

/* (transfer full): "2 lesser mouse-deer, female", "Blank", "Human". */
char *tpt_seen_describe (const TptSeen *seen);

/* Which frame, and which trigger it belongs to; @trigger_id is 0 for a frame
 * without one. */
typedef struct {
  gint64 frame_id;
  gint64 trigger_id;
} TptFrameRef;

/**
 * TptFrameRow:
 * @ref: its keys
 * @frame: (owned): code
 * @path: (owned): where the picture is, absolute; it may be gone
 * @sha256: (owned) (nullable): content
 * @kind: (owned): jpeg, raw, clip
 * @at: corrected instant, or %TPT_NO_INSTANT
 * @camera_time: (owned) (nullable): what the camera's clock showed
 * @time_source: (owned) (nullable): where that came from
 * @temperature_c: of the camera; NAN unknown
 * @flash: 1 fired, 0 not, -1 unknown
 * @damage: (owned) (nullable): what is wrong with the picture
 * @place: place within its trigger, from 0
 * @n_frames: frames of its trigger
 * @blank_score: 0 to 1, higher is more probably empty; NAN not scored
 * @station: (owned): code
 * @station_title: (owned): its name, else its code
 * @deployment: (owned): code
 * @batch: (owned): code
 * @night: whether the sun was below the horizon by more than 6 degrees; -1 unknown
 * @marked: good for guests
 * @disagreement: whether opinions on its trigger differ and nobody has settled it
 * @seen: (owned) (element-type TptSeen): of its trigger and of the frame itself, by opinion, then code
 * @file: (owned): as it is on record: relative to the project's folder
 */
typedef struct {
  TptFrameRef ref;
  char *frame;
  char *path;
  char *sha256;
  char *kind;
  TptInstant at;
  char *camera_time;
  char *time_source;
  double temperature_c;
  int flash;
  char *damage;
  int place;
  int n_frames;
  double blank_score;
  char *station;
  char *station_title;
  char *deployment;
  char *batch;
  int night;
  gboolean marked;
  gboolean disagreement;
  GPtrArray *seen;
  char *file;
} TptFrameRow;

TptFrameRow *tpt_frame_row_new (void);
void tpt_frame_row_free (TptFrameRow *self);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptFrameRow, tpt_frame_row_free)

/* (transfer full): what counts, in one line: "2 lesser mouse-deer"; "undecided". */
char *tpt_frame_row_describe (const TptFrameRow *self);

/* Whether anybody has said anything of its trigger. */
gboolean tpt_frame_row_is_decided (const TptFrameRow *self);

/* Whether it is a film, of which there is no picture to show. */
gboolean tpt_frame_row_is_clip (const TptFrameRow *self);

/* (transfer none): what its picture is remembered by, for tpt_previews_load_async(). */
const char *tpt_frame_row_get_key (const TptFrameRow *self);

#define TPT_TYPE_FRAME_ITEM (tpt_frame_item_get_type ())
G_DECLARE_FINAL_TYPE (TptFrameItem, tpt_frame_item, TPT, FRAME_ITEM, GObject)

TptFrameItem *tpt_frame_item_new (void);

/* (nullable) (transfer none): %NULL until it has been read. Signal "changed"
 * when there is a new one. */
const TptFrameRow *tpt_frame_item_get_row (TptFrameItem *self);

/* @row: (transfer full). Emits "changed". */
void tpt_frame_item_take_row (TptFrameItem *self, TptFrameRow *row);

G_END_DECLS
