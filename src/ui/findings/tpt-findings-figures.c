/* The figures of the panes, and the sentences that go with them. */
#include "config.h"

#include "tpt-findings-page-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-findings-words.h"

/* --- figures ----------------------------------------------------------------------- */

void
tpt_findings_show_brushes (TptFindingsPage *self)
{
  TptFindingsChoice *choice = self->choice;
  TptRange none = { TPT_NO_INSTANT, TPT_NO_INSTANT };
  gboolean two = tpt_findings_choice_get_beside (choice) == TPT_BESIDE_PERIOD; /* and nothing but them is shown */
  gboolean same = tpt_findings_choice_get_hours_by_sun (choice) == tpt_findings_by_sun (self);
  TptRange period = two ? none : tpt_findings_choice_get_period (choice);

  tpt_figure_view_set_brush (tpt_figure_pane_get_view (self->strip), period);
  tpt_figure_view_set_brush (tpt_figure_pane_get_view (self->months), period);
  tpt_figure_view_set_hours (tpt_figure_pane_get_view (self->hours), same ? tpt_findings_choice_get_hour_from (choice) : NAN,
                             same ? tpt_findings_choice_get_hour_to (choice) : NAN);
}

/* The same figure again would take the keyboard's place in it. */
void
tpt_findings_show_figure (TptFigurePane *pane, TptFigure *figure, const char *note)
{
  if (tpt_figure_view_get_figure (tpt_figure_pane_get_view (pane)) != figure)
    tpt_figure_pane_set_figure (pane, figure);
  tpt_figure_pane_set_note (pane, note);
}

void
tpt_findings_show_strip (TptFindingsPage *self, TptJob *job)
{
  TptJobFindings *findings = TPT_JOB_FINDINGS (job);
  gboolean worked = tpt_job_findings_get_rate (findings)->nights > 0;

  g_set_object (&self->strip_places, tpt_job_findings_get_places (findings));
  tpt_findings_show_figure (self->strip, tpt_job_findings_get_strip (findings),
               worked ? NULL : _("No camera worked at these stations, so there is no time to show."));
  tpt_findings_show_brushes (self);
  tpt_findings_mark_station (self);
}

/* Of two periods the ratio is that of the later over the earlier, however they were chosen. */
static gboolean
is_turned (TptFindingsPage *self)
{
  return tpt_findings_choice_get_beside (self->choice) == TPT_BESIDE_PERIOD &&
         tpt_findings_choice_get_other_period (self->choice).from < tpt_findings_choice_get_period (self->choice).from;
}

static TptRateRatio
turn (const TptRateRatio *ratio)
{
  return (TptRateRatio) { 1 / ratio->ratio, 1 / ratio->high, 1 / ratio->low, ratio->p };
}

/* What is said in the line under the two sentences. */
static void
show_beside (TptFindingsPage *self)
{
  g_autofree char *first = tpt_findings_name_side (self, FALSE), *second = tpt_findings_name_side (self, TRUE), *words = NULL;
  const TptRateRatio *ratio = self->rates != NULL ? tpt_job_months_get_ratio (self->rates) : NULL;
  const TptOverlap *overlap = self->activity != NULL ? tpt_job_activity_get_overlap (self->activity) : NULL;
  TptRateRatio turned = ratio != NULL ? turn (ratio) : (TptRateRatio) { NAN, NAN, NAN, NAN };

  if (tpt_findings_choice_get_beside (self->choice) == TPT_BESIDE_PERIOD)
    words = tpt_findings_words_beside (NULL, NULL, ratio != NULL && is_turned (self) ? &turned : ratio, overlap);
  else if (first != NULL)
    words = tpt_findings_words_beside (first, second, ratio, overlap);
  gtk_label_set_label (self->beside_sentence, words != NULL ? words : "");
  gtk_widget_set_visible (GTK_WIDGET (self->beside_sentence), words != NULL);
}

static const char *
say_why_no_hours (TptJobActivity *job)
{
  const TptActivity *first = tpt_job_activity_get (job, 0), *second = tpt_job_activity_get (job, 1);

  if (first->n > 0 || (second != NULL && second->n > 0))
    return NULL;
  return first->why_not != NULL ? first->why_not : _("No detection, so there are no hours to show.");
}

void
tpt_findings_show_hours (TptFindingsPage *self, TptJob *job)
{
  TptJobActivity *activity = TPT_JOB_ACTIVITY (job);
  g_autofree char *when = tpt_findings_words_hours (tpt_job_activity_get (activity, 0), tpt_job_activity_get (activity, 1));

  g_set_object (&self->activity, activity);
  tpt_figure_pane_set_summary (self->hours, when);
  tpt_findings_show_figure (self->hours, tpt_job_activity_get_figure (activity), say_why_no_hours (activity));
  tpt_findings_show_brushes (self);
  for (guint i = 0; i < TPT_N_SIDES; i++)
    tpt_details_view_set_activity (self->sides[i].details, activity);
  show_beside (self);
}

void
tpt_findings_show_months (TptFindingsPage *self, TptJob *job)
{
  TptJobMonths *months = TPT_JOB_MONTHS (job);

  tpt_findings_show_figure (self->months, tpt_job_months_get_figure (months),
               tpt_job_months_get_rate (months, 0)->nights > 0 ? NULL : _("No camera worked, so there is no rate to show."));
  tpt_findings_show_brushes (self);
}

void
tpt_findings_show_rates (TptFindingsPage *self, TptJob *job)
{
  g_set_object (&self->rates, TPT_JOB_MONTHS (job));
  for (guint i = 0; i < TPT_N_SIDES; i++)
    tpt_details_view_set_months (self->sides[i].details, self->rates);
  show_beside (self);
}

/* --- the switchable panes ------------------------------------------------------------ */

static void
show_matrix_keys (TptFindingsPage *self, TptFigureView *view)
{
  g_autoptr (GPtrArray) keys = g_ptr_array_new ();
  const char *const *stations = tpt_findings_choice_get_stations (self->choice);
  const char *names[] = { tpt_findings_choice_get_species (self->choice),
                          tpt_findings_choice_get_other_species (self->choice) };

  for (guint i = 0; i < G_N_ELEMENTS (names); i++)
    if (names[i] != NULL)
      g_ptr_array_add (keys, (gpointer) names[i]);
  for (guint i = 0; stations != NULL && stations[i] != NULL; i++)
    g_ptr_array_add (keys, (gpointer) stations[i]);
  g_ptr_array_add (keys, NULL);
  tpt_figure_view_set_chosen_keys (view, keys->len > 1 ? (const char *const *) keys->pdata : NULL);
}

/* Details are of one set: beside another it is said which. */
static void
say_whose_details (TptFindingsPage *self, TptSide *side, TptSideKind kind)
{
  g_autofree char *first = kind == TPT_SIDE_DETAILS ? tpt_findings_name_side (self, FALSE) : NULL;
  g_autofree char *words = first != NULL ? g_strdup_printf (_("%s, the first of the two"), first) : NULL;

  tpt_figure_pane_set_summary (side->pane, words);
}

void
tpt_findings_show_side (TptFindingsPage *self, TptSide *side)
{
  TptSideKind kind = gtk_drop_down_get_selected (side->kind);
  TptFigure *figure = kind == TPT_SIDE_MATRIX ? self->matrix : kind == TPT_SIDE_RICHNESS ? self->richness : NULL;
  TptFigureView *view = tpt_figure_pane_get_view (side->pane);

  g_object_set (side->pane, "title", gtk_string_object_get_string (gtk_drop_down_get_selected_item (side->kind)), NULL);
  tpt_figure_pane_set_content (side->pane, kind == TPT_SIDE_DETAILS ? GTK_WIDGET (side->details) : NULL);
  tpt_figure_pane_set_tabled (side->pane, kind != TPT_SIDE_DETAILS);
  tpt_figure_pane_set_askable (side->pane, kind != TPT_SIDE_DETAILS);
  tpt_figure_view_set_squeezable (view, kind != TPT_SIDE_MATRIX);
  tpt_findings_show_figure (side->pane, figure, NULL);
  say_whose_details (self, side, kind);
  if (kind == TPT_SIDE_MATRIX)
    show_matrix_keys (self, view);
  else
    tpt_figure_view_set_chosen_keys (view, NULL);
}

void
tpt_findings_show_sides (TptFindingsPage *self)
{
  for (guint i = 0; i < TPT_N_SIDES; i++)
    tpt_findings_show_side (self, &self->sides[i]);
}

static void
keep_figure (TptFigure **place, TptFigure *figure)
{
  TptFigure *before = *place;

  *place = figure != NULL ? tpt_figure_ref (figure) : NULL;
  g_clear_pointer (&before, tpt_figure_unref);
}

void
tpt_findings_show_matrix (TptFindingsPage *self, TptJob *job)
{
  keep_figure (&self->matrix, tpt_job_matrix_get_figure (TPT_JOB_MATRIX (job)));
  tpt_findings_show_sides (self);
}

void
tpt_findings_show_richness (TptFindingsPage *self, TptJob *job)
{
  keep_figure (&self->richness, tpt_job_richness_get_figure (TPT_JOB_RICHNESS (job)));
  tpt_findings_show_sides (self);
}

void
tpt_findings_say_occupancy (TptFindingsPage *self, TptJobOccupancy *job, const char *words)
{
  for (guint i = 0; i < TPT_N_SIDES; i++)
    tpt_details_view_set_occupancy (self->sides[i].details, job, words);
}

void
tpt_findings_show_occupancy (TptFindingsPage *self, TptJob *job)
{
  tpt_findings_say_occupancy (self, TPT_JOB_OCCUPANCY (job), NULL);
}

void
tpt_findings_show_moon (TptFindingsPage *self, TptJob *job)
{
  for (guint i = 0; i < TPT_N_SIDES; i++)
    tpt_details_view_set_moon (self->sides[i].details, TPT_JOB_MOON (job));
}
