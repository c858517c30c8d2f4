/* What the panes show of what was computed and of what is chosen. */
#include "config.h"

#include "tpt-findings-page-private.h"

#include <glib/gi18n-lib.h>

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
char *
tpt_findings_name_side (TptFindingsPage *self, gboolean other)
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

void
tpt_findings_mark_station (TptFindingsPage *self)
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
  tpt_findings_mark_station (self);
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
  if (self->awaits_keys && gtk_widget_get_mapped (GTK_WIDGET (self)))
    gtk_widget_grab_focus (GTK_WIDGET (self));
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

/* --- what is chosen -------------------------------------------------------------------- */

static void
show_comparison (TptFindingsPage *self)
{
  g_autofree char *first = tpt_findings_name_side (self, FALSE), *second = tpt_findings_name_side (self, TRUE);

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
  tpt_findings_show_brushes (self);
  tpt_findings_show_sides (self);
  if (!(parts & TPT_PART_SPECIES))
    tpt_findings_say_occupancy (self, NULL, _("Choose a species: the share of the stations where it is, seen or not, is of one species."));
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
    tpt_findings_say_occupancy (self, NULL, error->message);
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
tpt_findings_drop_results (TptFindingsPage *self)
{
  g_clear_object (&self->places);
  g_clear_object (&self->strip_places);
  g_clear_object (&self->activity);
  g_clear_object (&self->rates);
  g_clear_pointer (&self->matrix, tpt_figure_unref);
  g_clear_pointer (&self->richness, tpt_figure_unref);
  g_clear_pointer (&self->selected, g_free);
}

void
tpt_findings_forget (TptFindingsPage *self)
{
  TptFigurePane *panes[] = { self->map, self->strip, self->hours, self->months };

  tpt_findings_drop_results (self);
  tpt_species_list_set_species (self->species, NULL);
  for (guint i = 0; i < G_N_ELEMENTS (panes); i++)
    tpt_findings_show_figure (panes[i], NULL, NULL);
  for (guint i = 0; i < 2; i++)
    tpt_map_view_set_places (tpt_map_pair_get_map (self->maps, i), NULL);
  tpt_map_pair_set_tracks (self->maps, NULL);
  tpt_map_pair_set_selected (self->maps, NULL);
  tpt_findings_show_sides (self);
  for (guint i = 0; i < TPT_N_SIDES; i++)
    forget_details (self->sides[i].details);
}
