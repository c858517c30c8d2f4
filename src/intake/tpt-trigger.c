#include "tpt-trigger.h"

#include <math.h>

/* Within a burst that counts its frames, a pause may be as long as this: a
 * flash recharging, a slow card. */
#define LONGEST_COUNTED_PAUSE TPT_MINUTE

static gboolean
begins_trigger (const TptTriggerFrame *before, const TptTriggerFrame *frame, gint64 gap_ms)
{
  if (before->at == TPT_NO_INSTANT || frame->at == TPT_NO_INSTANT)
    return TRUE;
  if (before->sequence > 0 && frame->sequence > 0)
    return frame->sequence != before->sequence + 1 || frame->at - before->at > LONGEST_COUNTED_PAUSE;
  return frame->at - before->at > gap_ms;
}

guint
tpt_trigger_group (const TptTriggerFrame *frames, guint n, int frames_per_trigger, double gap_s, guint *triggers)
{
  gint64 gap_ms = (gint64) ((gap_s > 0 ? gap_s : TPT_TRIGGER_GAP_S) * 1000.0 + 0.5);
  guint n_triggers = 0;
  int n_frames = 0;

  for (guint i = 0; i < n; i++)
    {
      gboolean full = frames_per_trigger > 0 && n_frames >= frames_per_trigger;

      if (i == 0 || full || begins_trigger (&frames[i - 1], &frames[i], gap_ms))
        {
          n_triggers++;
          n_frames = 0;
        }
      n_frames++;
      triggers[i] = n_triggers - 1;
    }
  return n_triggers;
}

#define LONGEST_BURST_PAUSE_S 40.0
#define LEAST_HOLE 3.0

static int
compare_pauses_cb (gconstpointer a, gconstpointer b)
{
  double first = *(const double *) a, second = *(const double *) b;

  return first < second ? -1 : first > second;
}

/* (transfer full) (element-type double): all pauses, shortest first. */
static GArray *
collect_pauses (const TptTriggerFrame *frames, guint n)
{
  GArray *pauses = g_array_new (FALSE, FALSE, sizeof (double));

  for (guint i = 1; i < n; i++)
    if (frames[i - 1].at != TPT_NO_INSTANT && frames[i].at != TPT_NO_INSTANT)
      {
        double pause = MAX ((double) (frames[i].at - frames[i - 1].at) / 1000.0, 1.0);

        g_array_append_val (pauses, pause);
      }
  g_array_sort (pauses, compare_pauses_cb);
  return pauses;
}

double
tpt_trigger_learn_gap (const TptTriggerFrame *frames, guint n)
{
  g_autoptr (GArray) pauses = collect_pauses (frames, n);
  double widest = LEAST_HOLE, gap = TPT_TRIGGER_GAP_S;

  for (guint i = TPT_TRIGGER_FEWEST; i + TPT_TRIGGER_FEWEST <= pauses->len; i++)
    {
      double a = g_array_index (pauses, double, i - 1);
      double b = MIN (g_array_index (pauses, double, i), 2 * 60.0);

      if (a > LONGEST_BURST_PAUSE_S || b / a < widest)
        continue;
      widest = b / a;
      gap = sqrt (a * b);
    }
  return gap;
}
