/* What the panes show of what was computed and of what is chosen. */
#include "config.h"

#include "tpt-findings-page-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-error.h"
#include "tpt-findings-words.h"

/* --- names --------------------------------------------------------------------- */

static char *
find_place_title (GListModel *places, const char *code)
{
  guint n = places != NULL ? g_list_model_get_n_items (places) : 0;

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TptPlaceItem) place = g_list_model_get_item (places, i);

      if (g_strcmp0 (tpt_record_get_code (tpt_place_item_get_record (place)), code) == 0)
        return g_strdup (tpt_place_item_get_title (place));
    }
  return NULL;
}

char *
tpt_findings_name_station (const char *code, gpointer page)
{
  TptFindingsPage *self = page;
  char *title = find_place_title (self->places, code);

  return title != NULL ? title : g_strdup (code);
}

char *
tpt_findings_name_species (const char *scientific, gpointer page)
{
  TptFindingsPage *self = page;
  char *title = tpt_species_list_get_title (self->species, scientific);

  return title != NULL ? title : g_strdup (scientific);
}

/* What the two that are compared differ in, for a title; %NULL without a comparison. */
static char *
name_side (TptFindingsPage *self, gboolean other)
{
  TptZone *zone = self->project != NULL ? tpt_project_get_zone (self->project) : NULL;
  TptFindingsChoice *choice = self->choice;

  switch (tpt_findings_choice_get_beside (choice))
    {
    case TPT_BESIDE_SPECIES:
      return tpt_findings_name_species (other ? tpt_findings_choice_get_other_species (choice)
                                              : tpt_findings_choice_get_species (choice), self);
    case TPT_BESIDE_PERIOD:
      return tpt_findings_words_period (other ? tpt_findings_choice_get_other_period (choice)
                                              : tpt_findings_choice_get_period (choice), zone);
    case TPT_BESIDE_NOTHING:
    default:
      return NULL;
    }
}

/* --- counts --------------------------------------------------------------------- */

static TptMapMeasure
get_measure (TptFindingsPage *self)
{
  return (TptMapMeasure) gtk_drop_down_get_selected (self->measure);
}

static void
show_places (TptFindingsPage *self, GListModel *places, guint which)
{
  g_autoptr (TptFigure) figure = tpt_map_pair_make_figure (get_measure (self), places);

  tpt_map_view_set_places (tpt_map_pair_get_map (self->maps, which), places);
  if (which == 0)
    {
      g_set_object (&self->places, places);
      tpt_figure_pane_set_figure (self->map, figure);
    }
  else
    tpt_figure_pane_set_other_figure (self->map, figure);
}

/* The row of the strip for a station: rows are made of places with any effort
 * or detection, in their order. */
static int
find_strip_row (TptFindingsPage *self, const char *code)
{
  guint n = self->strip_places != NULL ? g_list_model_get_n_items (self->strip_places) : 0;
  int row = 0;

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TptPlaceItem) place = g_list_model_get_item (self->strip_places, i);
      const TptRate *rate = tpt_place_item_get_rate (place);

      if (!(rate->nights > 0) && rate->detections == 0)
        continue;
      if (g_strcmp0 (tpt_record_get_code (tpt_place_item_get_record (place)), code) == 0)
        return row;
      row++;
    }
  return -1;
}

static void
mark_station (TptFindingsPage *self)
{
  tpt_map_pair_set_selected (self->maps, self->selected);
  tpt_figure_view_set_chosen_row (tpt_figure_pane_get_view (self->strip), find_strip_row (self, self->selected));
}

void
tpt_findings_point_out (TptFindingsPage *self, const char *code)
{
  if (g_strcmp0 (self->selected, code) == 0)
    return;
  g_free (self->selected);
  self->selected = g_strdup (code);
  mark_station (self);
}

static void
show_nothing_seen (TptFindingsPage *self, const TptRate *rate)
{
  gtk_label_set_label (self->nothing_seen_label,
                       rate->nights > 0
                         ? _("Nothing of what is chosen was seen, though cameras worked: the struck rings show where.")
                         : _("No camera worked in this period."));
  gtk_revealer_set_reveal_child (self->nothing_seen, rate->detections == 0);
}

static void
list_species (TptFindingsPage *self, GListModel *species)
{
  guint n = g_list_model_get_n_items (species);
  g_autoptr (GStrvBuilder) names = g_strv_builder_new (), titles = g_strv_builder_new ();
  g_auto (GStrv) all_names = NULL, all_titles = NULL;

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TptSpeciesItem) item = g_list_model_get_item (species, i);

      if (tpt_species_item_get_rate (item)->detections == 0)
        continue;
      g_strv_builder_add (names, tpt_record_get_code (tpt_species_item_get_record (item)));
      g_strv_builder_add (titles, tpt_species_item_get_title (item));
    }
  all_names = g_strv_builder_end (names);
  all_titles = g_strv_builder_end (titles);
  tpt_compare_button_set_species (self->compare, (const char *const *) all_names, (const char *const *) all_titles,
                                  tpt_findings_choice_get_species (self->choice),
                                  tpt_findings_choice_get_other_species (self->choice));
}

void
tpt_findings_show_count (TptFindingsPage *self, TptJob *job)
{
  TptJobFindings *findings = TPT_JOB_FINDINGS (job);
  const TptRate *rate = tpt_job_findings_get_rate (findings);
  TptFindingsPart parts = tpt_findings_choice_get_parts (self->choice);

  gtk_label_set_label (self->sentence, tpt_job_findings_get_sentence (findings));
  tpt_species_list_set_species (self->species, tpt_job_findings_get_species (findings));
  list_species (self, tpt_job_findings_get_species (findings));
  if (!(parts & TPT_PART_STATIONS))
    {
      show_places (self, tpt_job_findings_get_places (findings), 0);
      self->runs[TPT_RUN_MAP].old = FALSE;
    }
  if (!(parts & TPT_PART_PERIOD) && tpt_findings_choice_get_beside (self->choice) != TPT_BESIDE_SPECIES)
    {
      tpt_findings_show_strip (self, job);
      self->runs[TPT_RUN_STRIP].old = FALSE;
    }
  show_nothing_seen (self, rate);
  gtk_stack_set_visible_child_name (self->stack, rate->detections > 0 || parts != TPT_PART_NONE ? "content" : "empty");
  tpt_findings_show_choice (self); /* with the names just read */
}

void
tpt_findings_show_other (TptFindingsPage *self, TptJob *job)
{
  TptJobFindings *findings = TPT_JOB_FINDINGS (job);

  gtk_label_set_label (self->other_sentence, tpt_job_findings_get_sentence (findings));
  if (tpt_findings_choice_get_parts (self->choice) & TPT_PART_STATIONS)
    return;
  show_places (self, tpt_job_findings_get_places (findings), 1);
  self->runs[TPT_RUN_OTHER_MAP].old = FALSE;
}

void
tpt_findings_show_map (TptFindingsPage *self, TptJob *job)
{
  show_places (self, tpt_job_findings_get_places (TPT_JOB_FINDINGS (job)), 0);
  tpt_findings_show_choice (self);
}

void
tpt_findings_show_other_map (TptFindingsPage *self, TptJob *job)
{
  show_places (self, tpt_job_findings_get_places (TPT_JOB_FINDINGS (job)), 1);
}

/* --- figures ----------------------------------------------------------------------- */

static void
show_brushes (TptFindingsPage *self)
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
static void
show_figure (TptFigurePane *pane, TptFigure *figure, const char *note)
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
  show_figure (self->strip, tpt_job_findings_get_strip (findings),
               worked ? NULL : _("No camera worked at these stations, so there is no time to show."));
  show_brushes (self);
  mark_station (self);
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
  g_autofree char *first = name_side (self, FALSE), *second = name_side (self, TRUE), *words = NULL;
  const TptRateRatio *ratio = self->rates != NULL ? tpt_job_months_get_ratio (self->rates) : NULL;
  const TptOverlap *overlap = self->activity != NULL ? tpt_job_activity_get_overlap (self->activity) : NULL;
  TptRateRatio turned = ratio != NULL ? turn (ratio) : (TptRateRatio) { NAN, NAN, NAN, NAN };

  if (first != NULL)
    words = is_turned (self) ? tpt_findings_words_beside (second, first, ratio != NULL ? &turned : NULL, overlap)
                             : tpt_findings_words_beside (first, second, ratio, overlap);
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

  g_set_object (&self->activity, activity);
  show_figure (self->hours, tpt_job_activity_get_figure (activity), say_why_no_hours (activity));
  show_brushes (self);
  for (guint i = 0; i < TPT_N_SIDES; i++)
    tpt_details_view_set_activity (self->sides[i].details, activity);
  show_beside (self);
}

void
tpt_findings_show_months (TptFindingsPage *self, TptJob *job)
{
  TptJobMonths *months = TPT_JOB_MONTHS (job);

  show_figure (self->months, tpt_job_months_get_figure (months),
               tpt_job_months_get_rate (months, 0)->nights > 0 ? NULL : _("No camera worked, so there is no rate to show."));
  show_brushes (self);
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
  show_figure (side->pane, figure, NULL);
  if (kind == TPT_SIDE_MATRIX)
    show_matrix_keys (self, view);
  else
    tpt_figure_view_set_chosen_keys (view, NULL);
}

static void
show_sides (TptFindingsPage *self)
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
  show_sides (self);
}

void
tpt_findings_show_richness (TptFindingsPage *self, TptJob *job)
{
  keep_figure (&self->richness, tpt_job_richness_get_figure (TPT_JOB_RICHNESS (job)));
  show_sides (self);
}

static void
set_occupancy (TptFindingsPage *self, TptJobOccupancy *job, const char *words)
{
  for (guint i = 0; i < TPT_N_SIDES; i++)
    tpt_details_view_set_occupancy (self->sides[i].details, job, words);
}

void
tpt_findings_show_occupancy (TptFindingsPage *self, TptJob *job)
{
  set_occupancy (self, TPT_JOB_OCCUPANCY (job), NULL);
}

void
tpt_findings_show_moon (TptFindingsPage *self, TptJob *job)
{
  for (guint i = 0; i < TPT_N_SIDES; i++)
    tpt_details_view_set_moon (self->sides[i].details, TPT_JOB_MOON (job));
}

/* --- what is chosen -------------------------------------------------------------------- */

static void
show_comparison (TptFindingsPage *self)
{
  g_autofree char *first = name_side (self, FALSE), *second = name_side (self, TRUE);

  tpt_map_pair_set_titles (self->maps, first, second);
  gtk_widget_set_visible (GTK_WIDGET (self->other_sentence), first != NULL);
  if (first == NULL)
    {
      gtk_label_set_label (self->other_sentence, "");
      tpt_figure_pane_set_other_figure (self->map, NULL);
      gtk_widget_set_visible (GTK_WIDGET (self->beside_sentence), FALSE);
    }
  tpt_compare_button_set_periods (self->compare, tpt_findings_choice_get_period (self->choice),
                                  tpt_findings_choice_get_other_period (self->choice));
  tpt_compare_button_set_comparing (self->compare, first != NULL);
  tpt_species_list_set_beside (self->species, tpt_findings_choice_get_other_species (self->choice));
}

void
tpt_findings_show_choice (TptFindingsPage *self)
{
  TptFindingsChoice *choice = self->choice;
  TptFindingsPart parts = tpt_findings_choice_get_parts (choice);

  if (self->project == NULL)
    return;
  gtk_widget_set_sensitive (self->everything, parts != TPT_PART_NONE);
  gtk_widget_set_sensitive (self->back, tpt_findings_choice_can_go_back (choice));
  tpt_choice_chips_show (self->chips, choice, tpt_project_get_zone (self->project), tpt_findings_name_station,
                         tpt_findings_name_species, self);
  tpt_period_button_set_period (self->period, tpt_findings_choice_get_period (choice));
  tpt_species_list_set_chosen (self->species, tpt_findings_choice_get_species (choice));
  tpt_map_pair_set_chosen (self->maps, tpt_findings_choice_get_stations (choice));
  show_comparison (self);
  show_brushes (self);
  show_sides (self);
  if (!(parts & TPT_PART_SPECIES))
    set_occupancy (self, NULL, _("Choose a species: the share of the stations where it is, seen or not, is of one species."));
}

/* --- waiting and trouble ------------------------------------------------------------------ */

void
tpt_findings_show_trouble (TptFindingsPage *self, const char *words)
{
  gtk_label_set_label (self->sentence, words);
  gtk_label_set_label (self->waiting, words);
}

/* (nullable): where the result of a run shows; details are words and do not recede. */
static TptFigurePane *
get_pane (TptFindingsPage *self, TptFindingsRun run)
{
  switch (run)
    {
    case TPT_RUN_MAP:
    case TPT_RUN_OTHER_MAP:
      return self->map;
    case TPT_RUN_STRIP:
      return self->strip;
    case TPT_RUN_HOURS:
      return self->hours;
    case TPT_RUN_MONTHS:
      return self->months;
    case TPT_RUN_COUNT:
      return tpt_findings_choice_get_parts (self->choice) & TPT_PART_STATIONS ? NULL : self->map;
    case TPT_RUN_MATRIX:
    case TPT_RUN_RICHNESS:
      return self->sides[0].pane;
    default:
      return NULL;
    }
}

void
tpt_findings_set_waiting (TptFindingsPage *self, TptFindingsRun run, gboolean waiting)
{
  TptFigurePane *pane = get_pane (self, run);

  if (pane != NULL)
    tpt_figure_pane_set_waiting (pane, waiting);
}

void
tpt_findings_show_fault (TptFindingsPage *self, TptFindingsRun run, const GError *error)
{
  TptFigurePane *pane = get_pane (self, run);
  TptFindingsPart gone = TPT_PART_SPECIES | TPT_PART_OTHER | TPT_PART_STATIONS;

  if (run == TPT_RUN_OCCUPANCY)
    set_occupancy (self, NULL, error->message);
  else if (pane != NULL && run != TPT_RUN_COUNT)
    tpt_figure_pane_set_note (pane, error->message);
  else
    tpt_findings_show_trouble (self, error->message);

  /* What is chosen may be gone from the project. */
  if (run == TPT_RUN_COUNT && g_error_matches (error, TPT_ERROR, TPT_ERROR_DATA))
    tpt_findings_choice_clear (self->choice, gone);
}

static void
forget_details (TptDetailsView *details)
{
  tpt_details_view_set_activity (details, NULL);
  tpt_details_view_set_months (details, NULL);
  tpt_details_view_set_moon (details, NULL);
  tpt_details_view_set_occupancy (details, NULL, NULL);
}

void
tpt_findings_forget (TptFindingsPage *self)
{
  TptFigurePane *panes[] = { self->map, self->strip, self->hours, self->months };

  g_clear_object (&self->places);
  g_clear_object (&self->strip_places);
  g_clear_object (&self->activity);
  g_clear_object (&self->rates);
  g_clear_pointer (&self->matrix, tpt_figure_unref);
  g_clear_pointer (&self->richness, tpt_figure_unref);
  g_clear_pointer (&self->selected, g_free);
  tpt_species_list_set_species (self->species, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (panes); i++)
    show_figure (panes[i], NULL, NULL);
  for (guint i = 0; i < 2; i++)
    tpt_map_view_set_places (tpt_map_pair_get_map (self->maps, i), NULL);
  tpt_map_pair_set_tracks (self->maps, NULL);
  tpt_map_pair_set_selected (self->maps, NULL);
  show_sides (self);
  for (guint i = 0; i < TPT_N_SIDES; i++)
    forget_details (self->sides[i].details);
}
