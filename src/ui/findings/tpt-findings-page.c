#include "config.h"

#include "tpt-findings-page.h"

#include <adwaita.h>
#include <glib/gi18n-lib.h>

#include "tpt-error.h"
#include "tpt-figure-dialog.h"
#include "tpt-figure-pane.h"
#include "tpt-job-findings.h"
#include "tpt-job-tracks.h"
#include "tpt-map-view.h"
#include "tpt-period-button.h"
#include "tpt-species-list.h"
#include "tpt-style.h"

#define DEBOUNCE_MS 120
#define RESOURCES "/io/github/tapetum/Tapetum/findings/"

struct _TptFindingsPage {
  GtkWidget parent_instance;

  GtkStack *stack;
  GtkLabel *waiting;
  GtkLabel *sentence;
  GtkSpinner *spinner;
  TptPeriodButton *period;
  GtkWidget *everything;
  TptSpeciesList *species;
  GtkRevealer *nothing_seen;
  GtkLabel *nothing_seen_label;
  GtkDropDown *measure;
  TptMapView *map;
  TptFigurePane *strip;

  TptProject *project; /* (owned) (nullable) */
  TptRange chosen_period;
  TptRange brush; /* a stretch of the strip; the strip itself shows the period */

  guint debounce_source;
  GCancellable *counting;   /* (owned) (nullable): the run whose result is wanted */
  GCancellable *stripping;  /* (owned) (nullable): the same for the strip behind a brush */
  GCancellable *tracking;   /* (owned) (nullable) */
  gboolean strip_is_old;
  GListModel *strip_places; /* (owned) (nullable): what the rows of the strip were made of */
};

G_DEFINE_FINAL_TYPE (TptFindingsPage, tpt_findings_page, GTK_TYPE_WIDGET)

static const TptRange no_range = { TPT_NO_INSTANT, TPT_NO_INSTANT };

static void queue_run (TptFindingsPage *self);

static gboolean
is_set (TptRange range)
{
  return range.from != TPT_NO_INSTANT || range.to != TPT_NO_INSTANT;
}

/* What everything but the strip is about. */
static TptRange
get_period (TptFindingsPage *self)
{
  return is_set (self->brush) ? self->brush : self->chosen_period;
}

static void
drop_run (GCancellable **run)
{
  if (*run != NULL)
    g_cancellable_cancel (*run);
  g_clear_object (run);
}

static gboolean
is_filtered (TptFindingsPage *self)
{
  return tpt_species_list_get_chosen (self->species) != NULL || is_set (self->chosen_period) || is_set (self->brush);
}

static TptFilter *
make_filter (TptFindingsPage *self, TptRange range)
{
  const char *chosen = tpt_species_list_get_chosen (self->species);
  TptFilter *filter = tpt_filter_new ();

  if (chosen != NULL)
    filter->species = g_strdupv ((char *[]) { (char *) chosen, NULL });
  filter->range = range;
  return filter;
}

/* Why a result is not to be looked at: another is wanted, or there is none. */
static gboolean
is_wanted (GAsyncResult *result, GCancellable *run, const GError *error)
{
  return g_task_get_cancellable (G_TASK (result)) == run && !g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED);
}

static void
update_spinner (TptFindingsPage *self)
{
  gtk_spinner_set_spinning (self->spinner, self->counting != NULL || self->stripping != NULL);
}

static void
show_trouble (TptFindingsPage *self, const char *words)
{
  gtk_label_set_label (self->sentence, words);
  gtk_label_set_label (self->waiting, words);
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
choose_station (TptFindingsPage *self, const char *code)
{
  tpt_map_view_set_selected (self->map, code);
  tpt_figure_view_set_chosen_row (tpt_figure_pane_get_view (self->strip), find_strip_row (self, code));
}

static void
show_strip (TptFindingsPage *self, TptJobFindings *job)
{
  TptFigureView *view = tpt_figure_pane_get_view (self->strip);

  g_set_object (&self->strip_places, tpt_job_findings_get_places (job));
  tpt_figure_pane_set_figure (self->strip, tpt_job_findings_get_strip (job));
  tpt_figure_view_set_brush (view, self->brush);
  tpt_figure_view_set_chosen_row (view, find_strip_row (self, tpt_map_view_get_selected (self->map)));
  self->strip_is_old = FALSE;
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
show_findings (TptFindingsPage *self, TptJobFindings *job)
{
  const TptRate *rate = tpt_job_findings_get_rate (job);
  gboolean filtered = is_filtered (self);

  gtk_label_set_label (self->sentence, tpt_job_findings_get_sentence (job));
  gtk_widget_set_sensitive (self->everything, filtered);
  tpt_species_list_set_species (self->species, tpt_job_findings_get_species (job));
  tpt_map_view_set_places (self->map, tpt_job_findings_get_places (job));
  show_nothing_seen (self, rate);
  if (!is_set (self->brush))
    show_strip (self, job);
  gtk_stack_set_visible_child_name (self->stack, rate->detections > 0 || filtered ? "content" : "empty");
}

/* The chosen species may be gone from the project. */
static void
recover (TptFindingsPage *self, const GError *error)
{
  show_trouble (self, error->message);
  if (!g_error_matches (error, TPT_ERROR, TPT_ERROR_DATA) || tpt_species_list_get_chosen (self->species) == NULL)
    return;
  tpt_species_list_set_chosen (self->species, NULL);
  queue_run (self);
}

static void
counted_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptFindingsPage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  if (!is_wanted (result, self->counting, error))
    return;
  g_clear_object (&self->counting);
  update_spinner (self);
  if (good)
    show_findings (self, TPT_JOB_FINDINGS (tpt_project_get_job (result)));
  else
    recover (self, error);
}

static void
stripped_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptFindingsPage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  if (!is_wanted (result, self->stripping, error))
    return;
  g_clear_object (&self->stripping);
  update_spinner (self);
  if (good)
    show_strip (self, TPT_JOB_FINDINGS (tpt_project_get_job (result)));
  else
    show_trouble (self, error->message);
}

static void
start (TptFindingsPage *self, TptRange range, GCancellable **run, GAsyncReadyCallback callback)
{
  g_autoptr (TptFilter) filter = make_filter (self, range);
  g_autoptr (TptJobFindings) job = tpt_job_findings_new (filter);

  *run = g_cancellable_new ();
  tpt_project_run_async (self->project, TPT_JOB (job), *run, callback, g_object_ref (self));
}

static gboolean
run_cb (gpointer data)
{
  TptFindingsPage *self = data;

  self->debounce_source = 0;
  drop_run (&self->counting);
  drop_run (&self->stripping);
  start (self, get_period (self), &self->counting, counted_cb);
  if (is_set (self->brush) && self->strip_is_old)
    start (self, self->chosen_period, &self->stripping, stripped_cb);
  update_spinner (self);
  return G_SOURCE_REMOVE;
}

static void
queue_run (TptFindingsPage *self)
{
  g_clear_handle_id (&self->debounce_source, g_source_remove);
  if (self->project != NULL)
    self->debounce_source = g_timeout_add (DEBOUNCE_MS, run_cb, self);
}

static void
tracked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptFindingsPage) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  if (!is_wanted (result, self->tracking, error))
    return;
  g_clear_object (&self->tracking);
  if (good)
    tpt_map_view_set_tracks (self->map, tpt_job_tracks_get_tracks (TPT_JOB_TRACKS (tpt_project_get_job (result))));
  else
    show_trouble (self, error->message);
}

static void
read_tracks (TptFindingsPage *self)
{
  g_autoptr (TptJobTracks) job = tpt_job_tracks_new ();

  drop_run (&self->tracking);
  self->tracking = g_cancellable_new ();
  tpt_project_run_async (self->project, TPT_JOB (job), self->tracking, tracked_cb, g_object_ref (self));
}

static void
project_changed_cb (TptFindingsPage *self)
{
  self->strip_is_old = TRUE;
  read_tracks (self);
  queue_run (self);
}

static void
set_brush (TptFindingsPage *self, TptRange brush)
{
  if (is_set (self->brush) && !is_set (brush))
    self->strip_is_old = TRUE;
  self->brush = brush;
  tpt_figure_view_set_brush (tpt_figure_pane_get_view (self->strip), brush);
  tpt_period_button_set_period (self->period, get_period (self));
}

static void
species_chosen_cb (TptFindingsPage *self)
{
  self->strip_is_old = TRUE;
  queue_run (self);
}

static void
period_set_cb (TptFindingsPage *self, gint64 from, gint64 to)
{
  self->chosen_period = (TptRange) { from, to };
  self->strip_is_old = TRUE;
  set_brush (self, no_range);
  queue_run (self);
}

static void
brushed_cb (TptFindingsPage *self, gint64 from, gint64 to)
{
  set_brush (self, (TptRange) { from, to });
  queue_run (self);
}

static void
strip_activated_cb (TptFindingsPage *self, int row, const char *key)
{
  if (key != NULL)
    choose_station (self, key);
}

static void
station_selected_cb (TptFindingsPage *self, const char *code)
{
  choose_station (self, code);
}

static void
measure_changed_cb (TptFindingsPage *self)
{
  tpt_map_view_set_measure (self->map, (TptMapMeasure) gtk_drop_down_get_selected (self->measure));
}

static void
everything_cb (TptFindingsPage *self)
{
  tpt_findings_page_show_everything (self);
}

static void
open_figure (TptFindingsPage *self, const char *kind)
{
  g_autoptr (TptFilter) filter = tpt_findings_page_get_filter (self);
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));

  if (self->project != NULL)
    tpt_figure_dialog_present (GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL, self->project, kind, filter);
}

static void
map_figure_cb (TptFindingsPage *self)
{
  open_figure (self, "map");
}

static void
strip_figure_cb (TptFindingsPage *self)
{
  open_figure (self, "strip");
}

static void
leave_project (TptFindingsPage *self)
{
  g_clear_handle_id (&self->debounce_source, g_source_remove);
  drop_run (&self->counting);
  drop_run (&self->stripping);
  drop_run (&self->tracking);
  if (self->project != NULL)
    g_signal_handlers_disconnect_by_data (self->project, self);
  g_clear_object (&self->project);
  g_clear_object (&self->strip_places);
}

static void
tpt_findings_page_dispose (GObject *object)
{
  leave_project (TPT_FINDINGS_PAGE (object));
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_FINDINGS_PAGE);
  G_OBJECT_CLASS (tpt_findings_page_parent_class)->dispose (object);
}

static void
bind_children (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, stack);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, waiting);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, sentence);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, spinner);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, period);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, everything);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, species);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, nothing_seen);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, nothing_seen_label);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, measure);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, map);
  gtk_widget_class_bind_template_child (widget_class, TptFindingsPage, strip);
}

static void
bind_callbacks (GtkWidgetClass *widget_class)
{
  gtk_widget_class_bind_template_callback (widget_class, period_set_cb);
  gtk_widget_class_bind_template_callback (widget_class, everything_cb);
  gtk_widget_class_bind_template_callback (widget_class, species_chosen_cb);
  gtk_widget_class_bind_template_callback (widget_class, measure_changed_cb);
  gtk_widget_class_bind_template_callback (widget_class, map_figure_cb);
  gtk_widget_class_bind_template_callback (widget_class, strip_figure_cb);
  gtk_widget_class_bind_template_callback (widget_class, station_selected_cb);
}

static void
tpt_findings_page_class_init (TptFindingsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_findings_page_dispose;
  g_type_ensure (TPT_TYPE_PERIOD_BUTTON);
  g_type_ensure (TPT_TYPE_SPECIES_LIST);
  g_type_ensure (TPT_TYPE_MAP_VIEW);
  g_type_ensure (TPT_TYPE_FIGURE_PANE);
  gtk_widget_class_set_template_from_resource (widget_class, RESOURCES "tpt-findings-page.ui");
  bind_children (widget_class);
  bind_callbacks (widget_class);
}

static void
tpt_findings_page_init (TptFindingsPage *self)
{
  TptFigureView *view;

  tpt_style_add (RESOURCES "findings.css");
  gtk_widget_init_template (GTK_WIDGET (self));
  self->chosen_period = no_range;
  self->brush = no_range;
  view = tpt_figure_pane_get_view (self->strip);
  tpt_figure_view_set_brushable (view, TRUE);
  g_signal_connect_object (view, "brushed", G_CALLBACK (brushed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (view, "activated", G_CALLBACK (strip_activated_cb), self, G_CONNECT_SWAPPED);
}

GtkWidget *
tpt_findings_page_new (void)
{
  return g_object_new (TPT_TYPE_FINDINGS_PAGE, NULL);
}

static void
clear_choices (TptFindingsPage *self)
{
  self->chosen_period = no_range;
  set_brush (self, no_range);
  tpt_species_list_set_chosen (self->species, NULL);
  self->strip_is_old = TRUE;
}

static void
enter_project (TptFindingsPage *self, TptProject *project)
{
  self->project = g_object_ref (project);
  tpt_period_button_set_moment (self->period, tpt_project_get_zone (project), tpt_project_get_now (project, NULL));
  tpt_map_view_set_moment (self->map, tpt_project_get_zone (project), tpt_project_get_now (project, NULL));
  g_signal_connect_object (project, "changed", G_CALLBACK (project_changed_cb), self, G_CONNECT_SWAPPED);
  gtk_label_set_label (self->waiting, _("Counting…"));
  gtk_stack_set_visible_child_name (self->stack, "waiting");
  project_changed_cb (self);
}

void
tpt_findings_page_set_project (TptFindingsPage *self, TptProject *project)
{
  if (self->project == project)
    return;
  leave_project (self);
  clear_choices (self);
  tpt_species_list_set_species (self->species, NULL);
  tpt_map_view_set_places (self->map, NULL);
  tpt_map_view_set_tracks (self->map, NULL);
  tpt_map_view_set_selected (self->map, NULL);
  tpt_figure_pane_set_figure (self->strip, NULL);
  if (project != NULL)
    enter_project (self, project);
  else
    gtk_stack_set_visible_child_name (self->stack, "nothing");
}

TptFilter *
tpt_findings_page_get_filter (TptFindingsPage *self)
{
  return make_filter (self, get_period (self));
}

void
tpt_findings_page_show_everything (TptFindingsPage *self)
{
  clear_choices (self);
  queue_run (self);
}

gboolean
tpt_findings_page_is_settled (TptFindingsPage *self)
{
  return self->debounce_source == 0 && self->counting == NULL && self->stripping == NULL && self->tracking == NULL;
}
