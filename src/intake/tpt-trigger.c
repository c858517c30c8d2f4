#include "tpt-trigger.h"

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
