#include "config.h"

#include "tpt-round-cost.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-words.h"

/* Less shows as 0.0. */
#define NOTHING 0.05

static char *
say_nights (double lost)
{
  if (lost < NOTHING)
    return g_strdup (_("no nights lost"));
  /* Translators: trap nights likely to be lost: "9.4 nights lost". */
  return g_strdup_printf (_("%.1f nights lost"), lost);
}

/* The difference of what is shown, not of what stands behind the decimals. */
static double
find_difference (const TptRoundCost *planned, const TptRoundCost *other)
{
  return round (other->lost * 10) / 10 - round (planned->lost * 10) / 10;
}

char *
tpt_round_cost_compare (const TptRoundCost *planned, const TptRoundCost *other, TptZone *zone, TptInstant on)
{
  g_autofree char *day = tpt_words_day (planned->at, zone, on), *other_day = tpt_words_day (other->at, zone, on);
  g_autofree char *nights = say_nights (planned->lost);
  g_autofree char *first = g_strdup_printf (_("Going on %1$s: %2$s"), day, nights);
  double more = find_difference (planned, other);

  if (isnan (other->lost) || other->at == planned->at)
    return g_steal_pointer (&first);
  if (fabs (more) < NOTHING)
    return g_strdup_printf (_("%1$s; on %2$s: no more and no less"), first, other_day);
  if (more > 0)
    /* Translators: "Going on 14 June: 9.4 nights lost; on 21 June: 17.2, which is 7.8 more" */
    return g_strdup_printf (_("%1$s; on %2$s: %3$.1f, which is %4$.1f more"), first, other_day, other->lost, more);
  return g_strdup_printf (_("%1$s; on %2$s: %3$.1f, which is %4$.1f fewer"), first, other_day, other->lost, -more);
}

char *
tpt_round_cost_speak (const TptRoundCost *planned, const TptRoundCost *other, TptZone *zone, TptInstant on)
{
  g_autofree char *day = tpt_words_day (planned->at, zone, on);
  g_autofree char *nights = say_nights (other->lost);
  double more = find_difference (planned, other);

  if (fabs (more) < NOTHING || planned->at == other->at)
    return g_steal_pointer (&nights);
  /* Translators: "17.2 nights lost, 7.8 more than on 14 June" */
  return g_strdup_printf (more > 0 ? _("%1$s, %2$.1f more than on %3$s") : _("%1$s, %2$.1f fewer than on %3$s"), nights, fabs (more), day);
}
