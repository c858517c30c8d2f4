#include "tpt-clock.h"

#include <stdlib.h>

/* A frame that tells its offset from UTC. */
typedef struct {
  gint64 clock_ms;
  int offset_s;
} Told;

/* What the frames of a batch have in common. */
typedef struct {
  const TptClock *clock; /* (unowned) */
  GArray *told;          /* (owned) (element-type Told): by clock */
  int base_s;            /* offset of the zone at the deployment's start */
  gint64 error_ms;       /* to add to the camera's idea of UTC */
  gint64 file_error_ms;  /* the same for file times */
} Batch;

static int
compare_told_cb (gconstpointer a, gconstpointer b)
{
  gint64 first = ((const Told *) a)->clock_ms, second = ((const Told *) b)->clock_ms;

  return first < second ? -1 : first > second;
}

static gboolean
tells_offset (const TptClockFrame *frame)
{
  return frame->source != TPT_TIME_NONE && frame->source != TPT_TIME_FILE &&
         frame->reading.offset_s != TPT_NO_OFFSET;
}

static GArray *
collect_told (const TptClockFrame *frames, guint n)
{
  GArray *told = g_array_new (FALSE, FALSE, sizeof (Told));

  for (guint i = 0; i < n; i++)
    if (tells_offset (&frames[i]))
      {
        Told one = { frames[i].reading.clock_ms, frames[i].reading.offset_s };

        g_array_append_val (told, one);
      }
  g_array_sort (told, compare_told_cb);
  return told;
}

/* How many of @told lie before @clock_ms. */
static guint
count_before (const GArray *told, gint64 clock_ms)
{
  guint low = 0, high = told->len;

  while (low < high)
    {
      guint middle = low + (high - low) / 2;

      if (g_array_index (told, Told, middle).clock_ms < clock_ms)
        low = middle + 1;
      else
        high = middle;
    }
  return low;
}

static int
find_offset (const Batch *batch, gint64 clock_ms)
{
  guint after = count_before (batch->told, clock_ms);
  const Told *told = (const Told *) batch->told->data;

  if (batch->told->len == 0)
    return batch->base_s;
  if (after == batch->told->len)
    return told[after - 1].offset_s;
  if (after == 0 || told[after].clock_ms - clock_ms < clock_ms - told[after - 1].clock_ms)
    return told[after].offset_s;
  return told[after - 1].offset_s;
}

static int
get_base_offset (const TptClock *clock, const TptClockFrame *frames, guint n)
{
  TptInstant start = clock->start;

  for (guint i = 0; i < n && start == TPT_NO_INSTANT; i++)
    {
      if (frames[i].source == TPT_TIME_FILE)
        start = frames[i].reading.clock_ms;
      else if (frames[i].source != TPT_TIME_NONE)
        tpt_zone_resolve (clock->zone, frames[i].reading.clock_ms, &start, NULL);
    }
  return start != TPT_NO_INSTANT ? tpt_zone_offset_at (clock->zone, start) : 0;
}

static gint64
get_error_with (const TptClock *clock, int offset_s)
{
  return clock->true_at - (clock->read.clock_ms - offset_s * TPT_SECOND);
}

static gint64
round_to_ms (double seconds)
{
  return (gint64) (seconds * 1000.0 + (seconds < 0 ? -0.5 : 0.5));
}

static void
find_errors (Batch *batch)
{
  const TptClock *clock = batch->clock;
  gboolean told = clock->read.offset_s != TPT_NO_OFFSET;

  if (!clock->has_pair)
    {
      batch->error_ms = batch->file_error_ms = round_to_ms (clock->camera_clock_offset_s);
      return;
    }

  batch->file_error_ms = get_error_with (clock, told ? clock->read.offset_s : batch->base_s);
  if (batch->told->len == 0)
    batch->error_ms = get_error_with (clock, batch->base_s);
  else
    batch->error_ms = get_error_with (clock, told ? clock->read.offset_s
                                                  : find_offset (batch, clock->read.clock_ms));
}

static TptInstant
correct_frame (const Batch *batch, const TptClockFrame *frame)
{
  int offset_s = frame->reading.offset_s;

  if (frame->source == TPT_TIME_NONE)
    return TPT_NO_INSTANT;
  if (frame->source == TPT_TIME_FILE)
    return frame->reading.clock_ms + batch->file_error_ms;

  if (offset_s == TPT_NO_OFFSET)
    offset_s = find_offset (batch, frame->reading.clock_ms);
  return frame->reading.clock_ms - offset_s * TPT_SECOND + batch->error_ms;
}

/* Cameras that lose their clock start at 1 January of the year they were made. */
static gboolean
is_factory_date (const TptClock *clock, gint64 clock_ms)
{
  int year, month, day, start_year, ignored;

  if (clock->start == TPT_NO_INSTANT || clock_ms < 0)
    return FALSE;
  tpt_civil_from_days (clock_ms / TPT_DAY, &year, &month, &day);
  tpt_civil_from_days (tpt_zone_local_day (clock->zone, clock->start), &start_year, &ignored, &ignored);
  return month == 1 && day == 1 && year < start_year;
}

static guint
find_doubts (const TptClock *clock, const TptClockFrame *frame)
{
  guint doubts = 0;

  if (frame->source == TPT_TIME_FILE)
    doubts |= TPT_DOUBT_FILE_TIME;
  if (clock->start != TPT_NO_INSTANT && frame->at < clock->start)
    doubts |= TPT_DOUBT_BEFORE_START;
  if (clock->end != TPT_NO_INSTANT && frame->at > clock->end)
    doubts |= TPT_DOUBT_AFTER_END;
  if (clock->now != TPT_NO_INSTANT && frame->at > clock->now + TPT_DAY)
    doubts |= TPT_DOUBT_FUTURE;
  if (is_factory_date (clock, frame->reading.clock_ms))
    doubts |= TPT_DOUBT_FACTORY;
  if (tells_offset (frame) && frame->reading.offset_s != tpt_zone_offset_at (clock->zone, frame->at))
    doubts |= TPT_DOUBT_ZONE;
  return doubts;
}

void
tpt_clock_mark_doubts (const TptClock *clock, TptClockFrame *frames, guint n)
{
  TptInstant before = TPT_NO_INSTANT;

  for (guint i = 0; i < n; i++)
    {
      TptClockFrame *frame = &frames[i];

      frame->doubts = 0;
      if (frame->at == TPT_NO_INSTANT)
        continue;
      frame->doubts = find_doubts (clock, frame);
      if (frame->source == TPT_TIME_FILE)
        continue;
      if (before != TPT_NO_INSTANT && frame->at < before - TPT_MINUTE)
        frame->doubts |= TPT_DOUBT_BACKWARDS;
      before = frame->at;
    }
}

double
tpt_clock_get_offset (const TptClock *clock)
{
  int offset_s = clock->read.offset_s;

  if (!clock->has_pair)
    return clock->camera_clock_offset_s;
  if (offset_s == TPT_NO_OFFSET)
    offset_s = tpt_zone_offset_at (clock->zone, clock->true_at);
  return get_error_with (clock, offset_s) / 1000.0;
}

static void
write_report (const Batch *batch, const TptClockFrame *frames, guint n, TptClockReport *report)
{
  const Told *told = (const Told *) batch->told->data;

  *report = (TptClockReport) { .clock_offset_s = tpt_clock_get_offset (batch->clock), .n_offsets = batch->told->len };
  for (guint i = 1; i < batch->told->len; i++)
    report->offsets_differ |= told[i].offset_s != told[0].offset_s;
  for (guint i = 0; i < n; i++)
    {
      report->n_file_time += frames[i].source == TPT_TIME_FILE;
      report->n_without += frames[i].source == TPT_TIME_NONE;
    }
}

void
tpt_clock_correct (const TptClock *clock, TptClockFrame *frames, guint n, TptClockReport *report)
{
  g_autoptr (GArray) told = collect_told (frames, n);
  Batch batch = { .clock = clock, .told = told };

  batch.base_s = get_base_offset (clock, frames, n);
  find_errors (&batch);
  for (guint i = 0; i < n; i++)
    frames[i].at = correct_frame (&batch, &frames[i]);
  tpt_clock_mark_doubts (clock, frames, n);
  if (report != NULL)
    write_report (&batch, frames, n, report);
}

void
tpt_clock_read_bare (const TptClock *clock, TptClockFrame *frames, guint n, const TptReading *readings,
                     guint n_readings, TptInstant *bare)
{
  g_autoptr (GArray) told = collect_told (frames, n);
  Batch batch = { .clock = clock, .told = told, .base_s = get_base_offset (clock, frames, n) };

  for (guint i = 0; i < n; i++)
    frames[i].at = correct_frame (&batch, &frames[i]);
  for (guint i = 0; i < n_readings; i++)
    {
      int offset_s = readings[i].offset_s;

      if (offset_s == TPT_NO_OFFSET)
        offset_s = find_offset (&batch, readings[i].clock_ms);
      bare[i] = readings[i].clock_ms - offset_s * TPT_SECOND;
    }
}
