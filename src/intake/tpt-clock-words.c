/* The steps of a clock plan in words. */
#include "config.h"

#include "tpt-clock-plan-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-words.h"

static char *
say_two (gint64 large, const char *large_unit, gint64 small, const char *small_unit)
{
  if (small == 0)
    return g_strdup_printf ("%" G_GINT64_FORMAT " %s", large, large_unit);
  return g_strdup_printf ("%" G_GINT64_FORMAT " %s %" G_GINT64_FORMAT " %s", large, large_unit, small, small_unit);
}

/* The two largest units that are not nothing. */
char *
tpt_clock_say_span (gint64 ms)
{
  gint64 s = (ABS (ms) + 500) / TPT_SECOND;
  gint64 days = s / 86400, hours = s / 3600;

  if (ABS (ms) < TPT_SECOND)
    return g_strdup_printf (_("%.1f s"), (double) ABS (ms) / 1000.0);
  if (days > 2)
    return say_two (days, ngettext ("day", "days", (gulong) days), s % 86400 / 3600, _("h"));
  if (hours > 0)
    return say_two (hours, _("h"), s % 3600 / 60, _("min"));
  return s >= 60 ? say_two (s / 60, _("min"), s % 60, _("s")) : say_two (s, _("s"), 0, "");
}

static char *
say_moment (TptClockPlan *self, TptInstant at)
{
  return tpt_words_instant (at, self->known->clock.zone);
}

char *
tpt_clock_say_offset (TptClockPlan *self, guint pair, gint64 error_ms)
{
  g_autofree char *span = tpt_clock_say_span (error_ms);
  g_autofree char *when = say_moment (self, self->known->pairs[pair].true_at);

  if (error_ms > 0)
    return g_strdup_printf (_("The camera’s clock was %1$s slow when it was read on %2$s; that much is added."), span, when);
  return g_strdup_printf (_("The camera’s clock was %1$s fast when it was read on %2$s; that much is taken off."), span, when);
}

char *
tpt_clock_say_record (gint64 error_ms)
{
  g_autofree char *span = tpt_clock_say_span (error_ms);

  if (error_ms > 0)
    return g_strdup_printf (_("The deployment’s record says that the clock was %s slow; that much is added."), span);
  return g_strdup_printf (_("The deployment’s record says that the clock was %s fast; that much is taken off."), span);
}

char *
tpt_clock_say_drift (TptClockPlan *self, guint from, guint to, double s_per_day)
{
  g_autofree char *first = tpt_words_date (self->known->pairs[from].true_at, self->known->clock.zone);
  g_autofree char *last = tpt_words_date (self->known->pairs[to].true_at, self->known->clock.zone);
  g_autofree char *rate = g_strdup_printf ("%.2g", fabs (s_per_day));

  if (s_per_day > 0)
    return g_strdup_printf (_("The clock lost %3$s s a day from %1$s to %2$s."), first, last, rate);
  return g_strdup_printf (_("The clock gained %3$s s a day from %1$s to %2$s."), first, last, rate);
}

char *
tpt_clock_say_set (TptClockPlan *self, guint from, guint to)
{
  g_autofree char *first = say_moment (self, self->known->pairs[from].true_at);
  g_autofree char *last = say_moment (self, self->known->pairs[to].true_at);

  return g_strdup_printf (_("The readings on %1$s and %2$s differ by more than a clock drifts, so it was set in between; the later one "
                            "is taken for the frames since the earlier."), first, last);
}

/* What the stretch begins and ends with, as the clock showed it. */
static char *
say_edge (TptClockPlan *self, const TptClockStretch *stretch, gboolean last)
{
  TptInstant wanted = last ? stretch->to : stretch->from;

  for (guint i = stretch->first; i < stretch->first + stretch->n; i++)
    if (tpt_clock_has_reading (&self->sights[i]) && self->bare[i] == wanted)
      return tpt_words_reading (self->sights[i].reading, FALSE);
  return g_strdup ("–");
}

char *
tpt_clock_say_reset (TptClockPlan *self, const TptClockStretch *stretch, int pair)
{
  g_autofree char *from = say_edge (self, stretch, FALSE);
  g_autofree char *to = say_edge (self, stretch, TRUE);
  g_autofree char *when = say_moment (self, pair >= 0 ? self->known->pairs[pair].true_at : self->known->ended_at);

  if (pair >= 0)
    {
      g_autofree char *read = tpt_words_reading (self->known->pairs[pair].read, FALSE);

      return g_strdup_printf (_("The clock lost its time: %1$u frames read from %2$s to %3$s. It showed %4$s on %5$s, which tells what to add."),
                              stretch->n, from, to, read, when);
    }
  return g_strdup_printf (_("The clock lost its time: %1$u frames read from %2$s to %3$s. Nobody noted what it showed; the last of them "
                            "is taken to show the visit on %4$s, when the camera was found working."),
                          stretch->n, from, to, when);
}

char *
tpt_clock_say_stray (TptClockPlan *self, guint pair)
{
  g_autofree char *when = say_moment (self, self->known->pairs[pair].true_at);
  g_autofree char *read = tpt_words_reading (self->known->pairs[pair].read, FALSE);

  return g_strdup_printf (_("What the clock showed on %1$s, %2$s, fits no frame of this card."), when, read);
}

char *
tpt_clock_say_lost (TptClockPlan *self, const TptClockStretch *stretch)
{
  g_autofree char *from = say_edge (self, stretch, FALSE);
  g_autofree char *to = say_edge (self, stretch, TRUE);

  return g_strdup_printf (_("The clock lost its time: %1$u frames read from %2$s to %3$s. No visit tells what to add, so they are left as they are."),
                          stretch->n, from, to);
}

/* Whether the zone has the offset @shift_ms before that of @at in another part of the year. */
static gboolean
is_other_season (TptZone *zone, TptInstant at, gint64 shift_ms)
{
  gint64 now = tpt_zone_offset_at (zone, at), other = tpt_zone_offset_at (zone, at + 182 * TPT_DAY);

  return now != other && now - other == shift_ms / TPT_SECOND;
}

char *
tpt_clock_say_hour (TptClockPlan *self, guint pair, gint64 shift_ms)
{
  TptInstant at = self->known->pairs[pair].true_at;
  g_autofree char *span = tpt_clock_say_span (shift_ms);
  g_autofree char *when = say_moment (self, at);

  if (is_other_season (self->known->clock.zone, at, shift_ms))
    return g_strdup_printf (shift_ms > 0 ? _("The clock was %1$s slow on %2$s: a change for daylight saving was missed.")
                                         : _("The clock was %1$s fast on %2$s: a change for daylight saving was missed."), span, when);
  return g_strdup_printf (shift_ms > 0 ? _("The clock was %1$s slow on %2$s: it showed the time of another zone.")
                                       : _("The clock was %1$s fast on %2$s: it showed the time of another zone."), span, when);
}

char *
tpt_clock_say_own_change (TptClockPlan *self, TptInstant change)
{
  g_autofree char *when = say_moment (self, change);

  return g_strdup_printf (_("The camera changed its clock for daylight saving by itself on %s; frames after that are brought back into line."), when);
}

char *
tpt_clock_say_bound (gint64 shift_ms, gboolean at_start, gboolean sun_agrees)
{
  g_autofree char *span = tpt_clock_say_span (shift_ms);
  g_autofree char *says = NULL;

  if (at_start)
    says = g_strdup_printf (_("Frames lie before the deployment’s start; if the clock showed the time of another zone, %s slow, all lie inside."), span);
  else
    says = g_strdup_printf (_("Frames lie after the deployment’s end; if the clock showed the time of another zone, %s fast, all lie inside."), span);
  return sun_agrees ? g_strjoin (" ", says, _("The light in the pictures says so too."), NULL) : g_steal_pointer (&says);
}

char *
tpt_clock_say_sun (int hours)
{
  return g_strdup_printf (hours > 0 ? ngettext ("By the light in the pictures the clock was about %d hour slow.",
                                                "By the light in the pictures the clock was about %d hours slow.", (gulong) hours)
                                    : ngettext ("By the light in the pictures the clock was about %d hour fast.",
                                                "By the light in the pictures the clock was about %d hours fast.", (gulong) -hours),
                          ABS (hours));
}
