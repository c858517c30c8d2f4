/* Card batches and their frames: the bulk side of the project. */
#pragma once

#include "tpt-store.h"

G_BEGIN_DECLS

/**
 * TptFrameFacts: what a frame of a card tells of itself.
 * @place: among the frames of its card in the card's order, from 1; 0 unknown
 * @kind: (nullable): jpeg, raw, clip
 * @temperature_c: NAN unknown
 * @flash: 1 fired, 0 not, -1 unknown
 * @sequence: place in its burst as the camera counts, from 1; 0 unknown
 */
typedef struct {
  int place;
  const char *kind;
  double temperature_c;
  int flash;
  int sequence;
} TptFrameFacts;

/* One frame on its way onto record. Strings belong to the caller. */
typedef struct {
  const char *file;        /* relative to the project's folder, with '/' */
  const char *frame;       /* (nullable): its code; %NULL makes it from @sha256 */
  const char *camera_time; /* (nullable): as the camera's clock had it */
  const char *time_source; /* (nullable): exif, digitized, xmp, file, table */
  TptInstant at;           /* corrected; or %TPT_NO_INSTANT */
  const char *sha256;      /* (nullable): lower-case hex */
  gint64 bytes;            /* or -1 */
  const char *damage;      /* (nullable): what is wrong with the picture */
  int trigger;             /* index of its trigger within the batch, or -1 */
  const TptFrameFacts *facts; /* (nullable) */
} TptNewFrame;

typedef struct {
  const char *file;
  const char *reason;
  const char *kept_as; /* (nullable) */
} TptNewSetAside;

/**
 * TptClockPiece: what was added to the readings of frames that follow one another.
 * @first_place: of the first of them, from 1
 * @frames: how many
 * @why: the steps, with blanks between: offset drift reset hour
 * @anchor: (nullable): what the clock showed on the first
 * @shift_s: seconds added there
 * @drift_s_per_day: seconds more for each day of the clock's from there on
 */
typedef struct {
  int first_place;
  int frames;
  const char *why;
  const char *anchor;
  double shift_s;
  double drift_s_per_day;
} TptClockPiece;

typedef struct {
  const char *batch; /* its code */
  gint64 deployment_id;
  const char *source;     /* (nullable): the card, by name */
  const char *folder;     /* (nullable): relative folder of the pictures */
  const char *clock_read; /* (nullable) */
  TptInstant clock_true;
  double clock_offset_s;  /* or NAN */
  int duplicates;
  const TptNewFrame *frames;
  gsize n_frames;
  const TptNewSetAside *set_aside;
  gsize n_set_aside;
  const char *camera_model;  /* (nullable) */
  const char *camera_serial; /* (nullable) */
  const TptClockPiece *pieces;
  gsize n_pieces;
} TptNewBatch;

/**
 * tpt_store_add_batch:
 *
 * Inside an action. The frames, triggers and files set aside go past the
 * journal; that the batch counts, and what was done to its clock, is what the
 * journal keeps, so that undo withdraws the whole batch and redo brings it back. Batches withdrawn for
 * good are cleared away first. Observations of the deployment that name no
 * trigger get the one they fall on.
 */
gboolean tpt_store_add_batch (TptStore *self, const TptNewBatch *batch, GError **error);

/* (transfer full): a code not in use, of the deployment's and a number. */
char *tpt_store_make_batch_code (TptStore *self, const char *deployment, GError **error);

/* Whether a file of this name was set aside from a card of this deployment. */
gboolean tpt_store_has_set_aside (TptStore *self, gint64 deployment_id, const char *file, gboolean *has, GError **error);

/* The code a frame with this content gets: 16 hex digits of its SHA-256. */
char *tpt_frame_code (const char *sha256);

/**
 * tpt_store_knows_content:
 * @sha256: lower-case hex
 * @known: (out): whether a picture of this content is on record and counts
 *
 * Returns: %FALSE with @error when the file fails
 */
gboolean tpt_store_knows_content (TptStore *self, const char *sha256, gboolean *known, GError **error);

/* %FALSE with TPT_ERROR_DATA naming @batch when no batch that counts has this
 * code; @batch may be %NULL, which is none to look for. */
gboolean tpt_store_check_batch (TptStore *self, const char *batch, GError **error);

typedef struct {
  gint64 frame_id;
  char *file;   /* (owned): relative to the project's folder */
  char *sha256; /* (owned) (nullable) */
  gint64 bytes; /* or -1 */
} TptPictureRow;

/* How many pictures are on record and count. */
gboolean tpt_store_count_pictures (TptStore *self, gint64 *count, GError **error);

/* (element-type TptPictureRow): up to @limit pictures on record after row
 * @after, by row; for going through all of them page by page. */
GPtrArray *tpt_store_page_pictures (TptStore *self, gint64 after, int limit, GError **error);

G_END_DECLS
