#include "config.h"

#include "tpt-activity-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

static void
set_caption (TptFigure *figure,
             const TptActivitySeries *self,
             const TptActivitySeries *other,
             const char *summary,
             const char *method)
{
  TptFigureCaption caption = TPT_FIGURE_CAPTION_INIT;
  TptPass *other_pass = other != NULL ? other->pass : NULL;
  g_autofree char *species =
    tpt_pass_name_both (self->pass, self->filter, other_pass, other != NULL ? other->filter : NULL);
  g_autofree char *title = g_strdup_printf (_("%s: hours of the day"), species);

  caption.title = title;
  caption.summary = summary;
  caption.n = (gint64) self->found.n + (other != NULL ? other->found.n : 0);
  caption.n_of = _("detections");
  /* Two species stand on the same nights, two periods do not: a sum would be true of one of them only. */
  caption.trap_nights = other == NULL || other_pass == self->pass ? self->pass->all_nights : NAN;
  caption.period = tpt_pass_unite_periods (self->pass, other_pass);
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
                   const TptActivityOrder *order,
                   const char *summary,
                   const char *method)
{
  TptFigure *figure = tpt_hours_new (order->by_sun ? TPT_HOURS_SUN : TPT_HOURS_CLOCK);
  TptHoursSun sun = tpt_activity_light (self->pass, other != NULL ? other->pass : NULL, order);

  tpt_hours_set_sun (figure, &sun);
  add_series (figure, self, other != NULL);
  if (other != NULL)
    add_series (figure, other, TRUE);
  set_caption (figure, self, other, summary, method);
  return figure;
}
