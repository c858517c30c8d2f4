/* From what the camera's clock showed to when it was.
 *
 * A camera's clock is taken to run evenly: it does not follow daylight saving
 * by itself, and the zone's changes during a deployment do not touch it.
 *
 * - With a pair, what the camera showed and the true instant at that moment:
 *   instant = reading + (true - read). When no frame tells an offset from UTC,
 *   an offset of @read makes no difference: only the display counts.
 * - Without one: the camera is taken to show the zone's time as it was at the
 *   deployment's start, and to be wrong by the deployment's camera_clock_offset_s.
 * - A reading that tells its offset from UTC is first brought to UTC by it.
 *   With a pair, the correction is then the pair's, its reading taken with its
 *   own offset, else with that of the frame nearest to it by the clock: an
 *   offset that is wrong throughout cancels out.
 * - A reading that tells none takes the offset of the nearest frame by the
 *   clock that does, if any frame of the batch does.
 * - The file time is a reading in UTC, as the system tells it. With a pair, the
 *   pair's reading without an offset is taken in the zone as at the start.
 */
#pragma once

#include <glib.h>

#include "tpt-exif.h"
#include "tpt-time.h"

G_BEGIN_DECLS

/**
 * TptClock:
 * @zone: (unowned): the project's zone
 * @start: start of the deployment; %TPT_NO_INSTANT takes the first reading's moment instead
 * @end: its end, or %TPT_NO_INSTANT
 * @now: the moment of asking, for frames from the future; %TPT_NO_INSTANT skips that check
 * @camera_clock_offset_s: seconds to add to the camera's reading; not used with a pair
 * @has_pair: whether @read and @true_at are given
 * @read: what the camera's clock showed
 * @true_at: the true instant of that moment
 */
typedef struct {
  TptZone *zone;
  TptInstant start;
  TptInstant end;
  TptInstant now;
  double camera_clock_offset_s;
  gboolean has_pair;
  TptReading read;
  TptInstant true_at;
} TptClock;

/**
 * TptClockDoubt: why a time may be wrong. Never a reason to leave a frame out.
 * @TPT_DOUBT_FILE_TIME: comes from the file system
 * @TPT_DOUBT_BEFORE_START: before the deployment's start
 * @TPT_DOUBT_AFTER_END: after its end
 * @TPT_DOUBT_FUTURE: more than a day after now
 * @TPT_DOUBT_FACTORY: the camera's clock was in the first day of a year before
 *   the deployment's: it was probably reset
 * @TPT_DOUBT_BACKWARDS: earlier, by more than a minute, than the frame before it in the order given
 * @TPT_DOUBT_ZONE: the camera tells an offset that is not the zone's at that moment
 */
typedef enum {
  TPT_DOUBT_FILE_TIME = 1 << 0,
  TPT_DOUBT_BEFORE_START = 1 << 1,
  TPT_DOUBT_AFTER_END = 1 << 2,
  TPT_DOUBT_FUTURE = 1 << 3,
  TPT_DOUBT_FACTORY = 1 << 4,
  TPT_DOUBT_BACKWARDS = 1 << 5,
  TPT_DOUBT_ZONE = 1 << 6,
} TptClockDoubt;

/**
 * TptClockFrame:
 * @reading: (in): what the frame's clock showed
 * @source: (in): where that comes from
 * @at: (out): the corrected instant, or %TPT_NO_INSTANT
 * @doubts: (out): flags of #TptClockDoubt
 */
typedef struct {
  TptReading reading;
  TptTimeSource source;
  TptInstant at;
  guint doubts;
} TptClockFrame;

/**
 * TptClockReport:
 * @clock_offset_s: seconds the camera was slow: true minus read, both in the
 *   zone (a camera that shows 12:00:00 at 12:01:40 gives 100); without a pair
 *   the deployment's camera_clock_offset_s
 * @n_file_time: frames with the file's time only
 * @n_without: frames left without a time
 * @n_offsets: frames whose reading tells an offset, the file time not counted
 * @offsets_differ: whether these are not all the same
 */
typedef struct {
  double clock_offset_s;
  guint n_file_time;
  guint n_without;
  guint n_offsets;
  gboolean offsets_differ;
} TptClockReport;

/**
 * tpt_clock_correct:
 * @clock: what is known about the clock
 * @frames: (inout) (array length=n): one batch in the card's order
 * @n: how many
 * @report: (out) (optional): about the batch
 */
void tpt_clock_correct (const TptClock *clock, TptClockFrame *frames, guint n, TptClockReport *report);

/**
 * tpt_clock_read_bare:
 * @clock: zone and start; nothing else is used
 * @frames: (inout) (array length=n): gets the instants
 * @readings: (array length=n_readings): what the same clock showed besides, as in a pair
 * @bare: (out) (array length=n_readings): their instants
 *
 * The instants that readings stand for with nothing added to them.
 */
void tpt_clock_read_bare (const TptClock *clock, TptClockFrame *frames, guint n, const TptReading *readings,
                          guint n_readings, TptInstant *bare);

/* Marks @doubts of frames that have their instants. */
void tpt_clock_mark_doubts (const TptClock *clock, TptClockFrame *frames, guint n);

/* The clock_offset_s of #TptClockReport. */
double tpt_clock_get_offset (const TptClock *clock);

G_END_DECLS
