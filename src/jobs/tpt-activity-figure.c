#include "config.h"

#include "tpt-activity-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static TptRange
unite (TptRange a, TptRange b)
{
  if (a.from == TPT_NO_INSTANT || b.from == TPT_NO_INSTANT)
    return a.from == TPT_NO_INSTANT ? b : a;
  return (TptRange){ MIN (a.from, b.from), MAX (a.to, b.to) };
}

static char *
name_species (const TptActivitySeries *self)
{
  return tpt_pass_name_species (self->pass, (const char *const *) self->filter->species);
}

static char *
say_title (const TptActivitySeries *self, const TptActivitySeries *other)
{
  g_autofree char *first = name_species (self), *second = other != NULL ? name_species (other) : NULL, *both = NULL;

  if (second != NULL && !g_str_equal (first, second))
    both = g_strdup_printf (_("%1$s and %2$s"), first, second);
  return g_strdup_printf (_("%s: hours of the day"), both != NULL ? both : first);
}

static void
set_caption (TptFigure *figure,
             const TptActivitySeries *self,
             const TptActivitySeries *other,
             const TptOverlap *overlap,
             const TptActivityOrder *order)
{
  TptFigureCaption caption = TPT_FIGURE_CAPTION_INIT;
  g_autofree char *title = say_title (self, other), *method = tpt_activity_say_method (self, other, overlap, order);
  g_autofree char *summary =
    other != NULL ? tpt_activity_say_overlap (self, other, overlap) : tpt_activity_say (self, order->by_sun);

  caption.title = title;
  caption.summary = summary;
  caption.n = (gint64) self->found.n + (other != NULL ? other->found.n : 0);
  caption.n_of = _("detections");
  /* Two species stand on the same nights, two periods do not: a sum would be true of one of them only. */
  caption.trap_nights = other == NULL || other->pass == self->pass ? self->pass->all_nights : NAN;
  caption.period = unite (self->pass->period, other != NULL ? other->pass->period : self->pass->period);
  caption.zone = self->pass->zone;
  caption.method = method;
  caption.units = _("percent of detections per hour");
  tpt_figure_set_caption (figure, &caption);
}

static void
add_series (TptFigure *figure, const TptActivitySeries *self, gboolean labelled)
{
  const TptActivity *found = &self->found;
  const char *const *species = (const char *const *) self->filter->species;
  TptHoursSeries series = {
    .label = labelled ? found->label : NULL,
    .key = species != NULL && species[0] != NULL && species[1] == NULL ? species[0] : NULL,
    .hours = (const double *) (gpointer) self->hours->data,
    .n = self->hours->len,
    .density = found->density,
    .low = found->low,
    .high = found->high,
    .points = found->n_points,
    .why_not = found->why_not,
  };

  tpt_hours_add_series (figure, &series);
}

TptFigure *
tpt_activity_draw (const TptActivitySeries *self,
                   const TptActivitySeries *other,
                   const TptOverlap *overlap,
                   const TptActivityOrder *order)
{
  TptFigure *figure = tpt_hours_new (order->by_sun ? TPT_HOURS_SUN : TPT_HOURS_CLOCK);
  TptHoursSun sun = tpt_activity_light (self->pass, other != NULL ? other->pass : NULL, order);

  tpt_hours_set_sun (figure, &sun);
  add_series (figure, self, other != NULL);
  if (other != NULL)
    add_series (figure, other, TRUE);
  set_caption (figure, self, other, overlap, order);
  return figure;
}
