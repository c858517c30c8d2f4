#include "tpt-due-scale.h"

struct _TptDueScale {
  GObject parent_instance;

  TptRange range;
  TptZone *zone; /* (owned) (nullable) */
  TptInstant on;
  TptInstant round_at;
};

G_DEFINE_FINAL_TYPE (TptDueScale, tpt_due_scale, G_TYPE_OBJECT)

enum {
  SIGNAL_CHANGED,
  SIGNAL_ROUND_MOVED,
  N_SIGNALS,
};

static guint signals[N_SIGNALS];

static void
tpt_due_scale_finalize (GObject *object)
{
  g_clear_pointer (&TPT_DUE_SCALE (object)->zone, tpt_zone_unref);

  G_OBJECT_CLASS (tpt_due_scale_parent_class)->finalize (object);
}

static void
tpt_due_scale_class_init (TptDueScaleClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_due_scale_finalize;

  signals[SIGNAL_CHANGED] =
    g_signal_new ("changed", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SIGNAL_ROUND_MOVED] =
    g_signal_new ("round-moved", G_TYPE_FROM_CLASS (klass), G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
tpt_due_scale_init (TptDueScale *self)
{
  self->on = TPT_NO_INSTANT;
  self->round_at = TPT_NO_INSTANT;
}

TptDueScale *
tpt_due_scale_new (void)
{
  return g_object_new (TPT_TYPE_DUE_SCALE, NULL);
}

void
tpt_due_scale_set_time (TptDueScale *self, TptRange range, TptZone *zone, TptInstant on)
{
  TptZone *kept = tpt_zone_ref (zone);

  g_clear_pointer (&self->zone, tpt_zone_unref);
  self->zone = kept;
  self->range = range;
  self->on = on;
  g_signal_emit (self, signals[SIGNAL_CHANGED], 0);
}

void
tpt_due_scale_set_round (TptDueScale *self, TptInstant round_at)
{
  if (self->round_at == round_at)
    return;
  self->round_at = round_at;
  g_signal_emit (self, signals[SIGNAL_ROUND_MOVED], 0);
}

gboolean
tpt_due_scale_is_set (TptDueScale *self)
{
  return self->zone != NULL && self->range.to > self->range.from;
}

TptRange
tpt_due_scale_get_range (TptDueScale *self)
{
  return self->range;
}

TptZone *
tpt_due_scale_get_zone (TptDueScale *self)
{
  return self->zone;
}

TptInstant
tpt_due_scale_get_on (TptDueScale *self)
{
  return self->on;
}

TptInstant
tpt_due_scale_get_round (TptDueScale *self)
{
  return self->round_at;
}

TptTimeAxis
tpt_due_scale_place (TptDueScale *self, double width)
{
  TptTimeAxis axis = { self->range, MAX (150, (double) (int) (0.49 * width)), width - 18, self->zone };

  axis.right = MAX (axis.right, axis.left + 1);
  return axis;
}

TptInstant
tpt_due_scale_snap (TptDueScale *self, TptInstant at)
{
  gint64 day = tpt_zone_local_day (self->zone, at + TPT_DAY / 2);
  gint64 first = tpt_zone_local_day (self->zone, self->on) + 1;

  return tpt_zone_day_from_number (self->zone, MAX (day, first));
}

TptInstant
tpt_due_scale_shift (TptDueScale *self, int days)
{
  gint64 day = tpt_zone_local_day (self->zone, self->round_at) + days;
  gint64 first = tpt_zone_local_day (self->zone, self->on) + 1;

  return tpt_zone_day_from_number (self->zone, MAX (day, first));
}
