/* Takes a card in: lists it, copies every frame with verification, reads the
 * times, puts the clock right, groups the triggers. Knows nothing of where the
 * records end up; the caller gets them.
 *
 * May be stopped (cancelled, killed, disk full, card pulled) at any moment and
 * run again with the same request: what is there already is recognised by
 * name, size and content and neither copied nor counted twice. A frame has its
 * final name only when its copy is verified and on disk.
 *
 * Blocks; meant for a worker thread. Callbacks come in the calling thread, in
 * the card's order. The card is never written to.
 */
#pragma once

#include <gio/gio.h>

#include "tpt-clock-plan.h"
#include "tpt-copy.h"
#include "tpt-exif.h"
#include "tpt-scan.h"
#include "tpt-time.h"

G_BEGIN_DECLS

/* Is a frame with this content on record already? Not asked with @verify_only. */
typedef gboolean (*TptIntakeKnown) (const char *sha256, gpointer user_data);

/* @name: (nullable): path below the card of the file that comes next. */
typedef void (*TptIntakeProgress) (guint files_done, guint files_total, gint64 bytes_done, gint64 bytes_total,
                                   const char *name, gpointer user_data);

/**
 * TptIntakeRequest:
 * @card: the card's folder
 * @destination: absolute path of the pictures' folder; made if missing
 * @prefix: folder below it for this card, `/` between parts, "" for none. Must
 *   be the same when a stopped run is run again
 * @clock: zone, deployment and, when somebody gave one for this card, a clock pair
 * @known: (nullable): what visits noted of the clock, and the place; not its @clock. Its
 *   pairs are passed over when @clock has one
 * @steps: (nullable): which steps of the clock plan to do, as far as there are any;
 *   %NULL does those done as a rule. With a pair in @clock all that are proposed are done besides
 * @repair: does all that are proposed
 * @frames_per_trigger: of the deployment; 0 unknown
 * @gap_s: see tpt_trigger_group(); 0 learns it from the card
 * @verify_only: compare card and destination, write nothing
 * @is_known: (nullable) (scope call):
 * @progress: (nullable) (scope call):
 */
typedef struct {
  const char *card;
  const char *destination;
  const char *prefix;
  TptClock clock;
  const TptClockKnown *known;
  const char *const *steps;
  gboolean repair;
  int frames_per_trigger;
  double gap_s;
  gboolean verify_only;
  TptIntakeKnown is_known;
  gpointer is_known_data;
  TptIntakeProgress progress;
  gpointer progress_data;
} TptIntakeRequest;

/**
 * TptIntakeFrame:
 * @source: (owned): path below the card, the card's own bytes
 * @file: (owned): path below the destination, `/` between folders, UTF-8
 * @sha256: content
 * @bytes: size
 * @kind: JPEG, RAW or clip
 * @place: among the frames in the card's order, from 1
 * @exif: (owned): reading, source, camera, serial, temperature, position and so on
 * @at: corrected instant; %TPT_NO_INSTANT when there is no time at all
 * @doubts: flags of #TptClockDoubt
 * @trigger: index from 0, rising with time
 * @was_there: whether an earlier run had copied it
 * @damage: (owned) (nullable): what is wrong with the picture, in words
 */
typedef struct {
  char *source;
  char *file;
  char sha256[TPT_SHA256_SIZE];
  gint64 bytes;
  TptScanKind kind;
  guint place;
  TptExif *exif;
  TptInstant at;
  guint doubts;
  guint trigger;
  gboolean was_there;
  char *damage;
} TptIntakeFrame;

/**
 * TptIntakeDuplicate:
 * @source: (owned): path below the card
 * @of: (owned) (nullable): the frame of the same content on this card; %NULL when it is on record already
 * @sha256: content
 * @bytes: size
 */
typedef struct {
  char *source;
  char *of;
  char sha256[TPT_SHA256_SIZE];
  gint64 bytes;
} TptIntakeDuplicate;

/**
 * TptIntakeTrouble: a file that gave no frame.
 * @source: (owned): path below the card
 * @reason: (owned): in words
 * @kept: (owned) (nullable): its copy below the destination, bit for bit; %NULL
 *   when there is none
 */
typedef struct {
  char *source;
  char *reason;
  char *kept;
} TptIntakeTrouble;

/**
 * TptIntake:
 * @frames: (owned) (element-type TptIntakeFrame): by time, then by the card's
 *   order; those without a time last
 * @duplicates: (owned) (element-type TptIntakeDuplicate): not copied again
 * @unreadable: (owned) (element-type TptIntakeTrouble): not pictures by their
 *   content, or lost to the card
 * @damaged: (element-type TptIntakeFrame): those of @frames that are damaged
 * @missing: (owned) (element-type TptIntakeTrouble): with @verify_only, what the
 *   destination lacks or has differently
 * @others: (owned) (element-type TptScanFile): files that are no frames, left on the card
 * @clock: about the clock
 * @sights: (owned) (array): what its plan was made of: frames in the card's order
 * @plan: (owned): what could be done about the clock
 * @steps: (owned): what was done
 * @gap_s: the pause that parts triggers
 * @n_triggers: triggers
 * @n_copied: files newly copied, the unreadable included
 * @first: earliest instant of a frame, or %TPT_NO_INSTANT
 * @last: latest
 * @bytes: size of @frames together
 */
typedef struct {
  GPtrArray *frames;
  GPtrArray *duplicates;
  GPtrArray *unreadable;
  GPtrArray *damaged;
  GPtrArray *missing;
  GPtrArray *others;
  TptClockReport clock;
  TptClockSight *sights;
  TptClockPlan *plan;
  GStrv steps;
  double gap_s;
  guint n_triggers;
  guint n_copied;
  TptInstant first;
  TptInstant last;
  gint64 bytes;
} TptIntake;

/**
 * tpt_intake_run:
 * @request: what to do; only read
 * @cancellable: (nullable): checked at every file and block
 * @error: return location
 *
 * Files go to @destination/@prefix under their path on the card; a name that is
 * taken by other content gets `-2`, `-3` and so on before its extension. Bytes
 * that are no UTF-8, control characters and the characters `\ : * ? " < > |`
 * become `_`. Files that are no pictures in spite of their name go to
 * @destination/@prefix/unreadable.
 *
 * Returns: (transfer full) (nullable): what was found, or %NULL with
 *   %TPT_ERROR_IO (card or disk failed, too little space), %TPT_ERROR_USAGE
 *   (a relative destination, a prefix with `..`) or %G_IO_ERROR_CANCELLED.
 *   Frames copied before a failure stay, complete, for the next run.
 */
TptIntake *tpt_intake_run (const TptIntakeRequest *request, GCancellable *cancellable, GError **error);
void tpt_intake_free (TptIntake *intake);

G_DEFINE_AUTOPTR_CLEANUP_FUNC (TptIntake, tpt_intake_free)

G_END_DECLS
