/* The pictures behind a thing of the findings. */
#include "tpt-thing-menu.h"

#include <math.h>

/* A record that is an instant has its pictures within this. */
#define LEAST_STRETCH TPT_MINUTE
#define DAY_MINUTES (24 * 60)

static TptInstant
later (TptInstant a, TptInstant b)
{
  return a == TPT_NO_INSTANT ? b : b == TPT_NO_INSTANT ? a : MAX (a, b);
}

static TptInstant
earlier (TptInstant a, TptInstant b)
{
  return a == TPT_NO_INSTANT ? b : b == TPT_NO_INSTANT ? a : MIN (a, b);
}

/* An open end is %TPT_NO_INSTANT on both sides. */
static TptRange
intersect (TptRange when, TptRange within)
{
  if (when.from != TPT_NO_INSTANT && when.to != TPT_NO_INSTANT && when.to - when.from < LEAST_STRETCH)
    when.to = when.from + LEAST_STRETCH;
  return (TptRange){ later (when.from, within.from), earlier (when.to, within.to) };
}

/* Both alike are the whole day. */
static void
set_hours (TptFrameQuery *query, int from, int to)
{
  if (from % DAY_MINUTES == to % DAY_MINUTES)
    return;
  query->hour_from = from % DAY_MINUTES;
  query->hour_to = to % DAY_MINUTES;
}

static GStrv
choose_names (const char *one, GStrv many)
{
  return one != NULL ? g_strdupv ((char *[]) { (char *) one, NULL }) : g_strdupv (many);
}

TptFrameQuery *
tpt_thing_menu_make_query (const TptThing *thing, const TptFilter *filter)
{
  TptFrameQuery *query = tpt_frame_query_new ();

  query->stations = choose_names (thing->station, filter->stations);
  query->species = choose_names (thing->species, filter->species);
  if (query->species == NULL)
    query->types = choose_names ("animal", NULL);
  query->range = intersect (thing->when, filter->range);
  if (!isnan (thing->hour_from) && !thing->hours_by_sun)
    set_hours (query, (int) lround (thing->hour_from * 60), (int) lround (thing->hour_to * 60));
  else if (isnan (thing->hour_from) && filter->hour_from >= 0 && !filter->hours_by_sun)
    set_hours (query, filter->hour_from, filter->hour_to);
  return query;
}
