/* The clock of a batch on record: what its frames showed, what was added, and
 * putting that another way. */
#pragma once

#include "tpt-batches.h"

G_BEGIN_DECLS

/**
 * TptBatchClock: a batch that counts.
 * @id: its row
 * @batch: (owned): code
 * @deployment: (owned) (nullable): code
 * @clock_read: (owned) (nullable): the pair it was put right by
 * @clock_true: or %TPT_NO_INSTANT
 * @clock_offset_s: or NAN
 * @serial: (owned) (nullable): of the camera
 */
typedef struct {
  gint64 id;
  char *batch;
  char *deployment;
  char *clock_read;
  TptInstant clock_true;
  double clock_offset_s;
  char *serial;
} TptBatchClock;

void tpt_batch_clock_free (TptBatchClock *self);

/* (transfer full) (nullable): %NULL with TPT_ERROR_DATA when no batch that
 * counts has this code. */
TptBatchClock *tpt_store_find_batch_clock (TptStore *self, const char *batch, GError **error);

/**
 * TptClockRow: a frame as its camera's clock had it.
 * @frame_id: its row
 * @file: (owned):
 * @camera_time: (owned) (nullable):
 * @time_source: (owned) (nullable):
 * @at: as corrected, or %TPT_NO_INSTANT
 * @flash: 1, 0, -1 unknown
 */
typedef struct {
  gint64 frame_id;
  char *file;
  char *camera_time;
  char *time_source;
  TptInstant at;
  int flash;
} TptClockRow;

/* (element-type TptClockRow): in the card's order; where that is not on record,
 * by file name. */
GPtrArray *tpt_store_read_clock_rows (TptStore *self, gint64 batch_id, GError **error);

/* @words: (out) (transfer full): the steps that are on record for a batch, with
 * blanks between, each once, as its pieces have them. */
gboolean tpt_store_read_clock_words (TptStore *self, gint64 batch_id, char **words, GError **error);

/* Inside an action. */
gboolean tpt_store_add_clock_pieces (TptStore *self, gint64 batch_id, const TptClockPiece *pieces, gsize n, GError **error);

typedef struct {
  gint64 frame_id;
  TptInstant at; /* %TPT_NO_INSTANT leaves the frame as it is */
} TptRetimed;

/**
 * tpt_store_retime_batch:
 * @clock: clock columns to write: read, true and offset
 * @frames: (array length=n):
 * @pieces: (array length=n_pieces): in place of those on record
 * @changed: (out) (optional): how many frames got another instant
 *
 * Inside an action. Triggers keep their frames and follow them; observations
 * of these triggers and frames move by as much as what they name. All of it is
 * journaled, so that undo puts everything back.
 */
gboolean tpt_store_retime_batch (TptStore *self, const TptBatchClock *clock, const TptRetimed *frames, gsize n,
                                 const TptClockPiece *pieces, gsize n_pieces, gint64 *changed, GError **error);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptBatchClock, tpt_batch_clock_free)

G_END_DECLS
