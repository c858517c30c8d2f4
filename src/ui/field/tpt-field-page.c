#include "config.h"

#include "tpt-field-page.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-due-list.h"
#include "tpt-figure-view.h"
#include "tpt-format.h"
#include "tpt-job-due.h"
#include "tpt-job-edit.h"
#include "tpt-job-outlook.h"
#include "tpt-job-station.h"
#include "tpt-job-tracks.h"
#include "tpt-map-view.h"
#include "tpt-round-cost.h"
#include "tpt-station-page.h"

#define DEBOUNCE_MS 120
#define STATION_WIDTH 352 /* of the right pane at first */

struct _TptFieldPage {
  GtkWidget parent_instance;

  TptProject *project;      /* (owned) (nullable) */
  char *chosen;             /* (owned) (nullable) */
  TptInstant tried_round;   /* while the round is dragged; else %TPT_NO_INSTANT */
  guint debounce_source;
  guint share_source;

  GCancellable *due_run;     /* (owned) (nullable): the run whose result is wanted */
  GCancellable *outlook_run; /* (owned) (nullable) */
  GCancellable *tried_run;   /* (owned) (nullable) */
  GCancellable *tracks_run;  /* (owned) (nullable) */
  GCancellable *station_run; /* (owned) (nullable) */
  TptJobDue *planned;        /* (owned) (nullable): the last results for the planned round */
  TptJobDue *due;            /* (owned) (nullable): what is shown: these, or those of the round tried */
  TptJobOutlook *outlook;    /* (owned) (nullable): of @planned */
  TptJobStation *station;    /* (owned) (nullable) */
  char *station_code;        /* (owned) (nullable): what @station is about */
  gboolean station_stale;    /* it has to be read again */

  GtkPaned *outer;
  GtkPaned *inner;
  TptDueList *list;
  TptMapView *map;
  GtkStack *below;
  GtkLabel *timeline_title;
  TptFigureView *timeline;
  TptStationPage *page;
};

G_DEFINE_FINAL_TYPE (TptFieldPage, tpt_field_page, GTK_TYPE_WIDGET)

enum {
  PROP_0,
  PROP_CHOSEN,
  N_PROPS,
};

static GParamSpec *properties[N_PROPS];

/* Whatever was asked before is no longer wanted. */
static GCancellable *
renew (GCancellable **slot)
{
  if (*slot != NULL)
    g_cancellable_cancel (*slot);
  g_clear_object (slot);
  *slot = g_cancellable_new ();
  return *slot;
}

static void
drop (GCancellable **slot)
{
  if (*slot != NULL)
    g_cancellable_cancel (*slot);
  g_clear_object (slot);
}

/* %FALSE when the run was given up or failed; a failure is said. */
static gboolean
finish (TptFieldPage *self, GObject *source, GAsyncResult *result, GCancellable *wanted)
{
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  if (g_task_get_cancellable (G_TASK (result)) != wanted || g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return FALSE;
  if (!good)
    gtk_widget_activate_action (GTK_WIDGET (self), "win.complain", "s", error->message);
  return good;
}

static TptStationItem *
find_item (TptFieldPage *self, const char *code)
{
  GListModel *stations = self->due != NULL ? tpt_job_due_get_stations (self->due) : NULL;

  for (guint i = 0; stations != NULL && code != NULL && i < g_list_model_get_n_items (stations); i++)
    {
      g_autoptr (TptStationItem) item = g_list_model_get_item (stations, i);

      if (g_strcmp0 (tpt_station_item_get_code (item), code) == 0)
        return item; /* the job keeps it */
    }
  return NULL;
}

static void
show_timeline (TptFieldPage *self, TptStationItem *item)
{
  g_autofree char *title = g_strdup_printf (_("%s: frames a day, visits, what is left"), tpt_station_item_get_title (item));

  gtk_label_set_label (self->timeline_title, title);
  tpt_figure_view_set_figure (self->timeline, tpt_job_station_get_timeline (self->station));
  gtk_stack_set_visible_child_name (self->below, "timeline");
}

/* Both what is due and what is on record of the station have to be there. */
static void
show_station (TptFieldPage *self)
{
  TptStationItem *item = find_item (self, self->chosen);

  if (item != NULL && self->station != NULL && g_strcmp0 (self->station_code, self->chosen) == 0)
    {
      tpt_station_page_show (self->page, item, self->station, tpt_job_due_get_on (self->due));
      show_timeline (self, item);
    }
  else if (item == NULL)
    {
      tpt_station_page_show (self->page, NULL, NULL, TPT_NO_INSTANT);
      tpt_figure_view_set_figure (self->timeline, NULL);
      gtk_stack_set_visible_child_name (self->below, "none");
    }
}

static void
station_ran_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptFieldPage) self = data;

  if (!finish (self, source, result, self->station_run))
    return;
  g_set_object (&self->station, TPT_JOB_STATION (tpt_project_get_job (result)));
  g_free (self->station_code);
  self->station_code = g_strdup (tpt_record_get_code (tpt_job_station_get_record (self->station)));
  show_station (self);
}

static void
run_station (TptFieldPage *self)
{
  g_autoptr (TptJobStation) job = NULL;

  if (self->project == NULL || self->chosen == NULL)
    return;
  self->station_stale = FALSE;
  job = tpt_job_station_new (self->chosen, TPT_NO_INSTANT);
  tpt_project_run_async (self->project, TPT_JOB (job), renew (&self->station_run), station_ran_cb, g_object_ref (self));
}

static void
tracks_ran_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptFieldPage) self = data;

  if (finish (self, source, result, self->tracks_run))
    tpt_map_view_set_tracks (self->map, tpt_job_tracks_get_tracks (TPT_JOB_TRACKS (tpt_project_get_job (result))));
}

static void
run_tracks (TptFieldPage *self)
{
  g_autoptr (TptJobTracks) job = tpt_job_tracks_new ();

  tpt_project_run_async (self->project, TPT_JOB (job), renew (&self->tracks_run), tracks_ran_cb, g_object_ref (self));
}

static void
choose_first (TptFieldPage *self)
{
  GListModel *stations = tpt_job_due_get_stations (self->due);
  g_autoptr (TptStationItem) first = g_list_model_get_item (stations, 0);

  tpt_field_page_choose (self, first != NULL ? tpt_station_item_get_code (first) : NULL);
}

/* The round as planned beside the one tried, or beside a week later. */
static void
show_cost (TptFieldPage *self)
{
  TptZone *zone = tpt_project_get_zone (self->project);
  TptInstant on = tpt_job_due_get_on (self->planned);
  TptRoundCost planned = { tpt_job_due_get_until (self->planned), tpt_job_due_get_lost_nights (self->planned) };
  TptRoundCost shown = { tpt_job_due_get_until (self->due), tpt_job_due_get_lost_nights (self->due) };
  TptRoundCost later = { planned.at + 7 * TPT_DAY, NAN };
  g_autofree char *words = NULL, *spoken = NULL;

  if (self->outlook != NULL)
    later.lost = tpt_job_outlook_get_lost_nights (self->outlook, later.at);
  words = tpt_round_cost_compare (&planned, shown.at != planned.at ? &shown : &later, zone, on);
  spoken = tpt_round_cost_speak (&planned, &shown, zone, on);
  tpt_due_list_set_cost (self->list, words, spoken);
}

static void
show_due (TptFieldPage *self, TptJobDue *due)
{
  TptZone *zone = tpt_project_get_zone (self->project);
  gboolean fresh = find_item (self, self->chosen) == NULL;

  g_set_object (&self->due, due);
  tpt_due_list_set_due (self->list, self->due, zone);
  tpt_map_view_set_moment (self->map, zone, tpt_job_due_get_on (self->due));
  tpt_map_view_set_stations (self->map, tpt_job_due_get_stations (self->due));
  show_cost (self);
  if (find_item (self, self->chosen) == NULL)
    choose_first (self);
  else if (fresh)
    tpt_due_list_choose (self->list, self->chosen); /* new among the stations: brought into view */
  if (self->station_stale)
    run_station (self);
  else
    show_station (self);
}

static void
tried_ran_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptFieldPage) self = data;

  if (finish (self, source, result, self->tried_run) && self->tried_round != TPT_NO_INSTANT)
    show_due (self, TPT_JOB_DUE (tpt_project_get_job (result)));
}

static gboolean
debounce_cb (gpointer data)
{
  TptFieldPage *self = data;
  g_autoptr (TptJobDue) job = tpt_job_due_new (TPT_NO_INSTANT, self->tried_round);

  self->debounce_source = 0;
  tpt_project_run_async (self->project, TPT_JOB (job), renew (&self->tried_run), tried_ran_cb, g_object_ref (self));
  return G_SOURCE_REMOVE;
}

static void
stop_trying (TptFieldPage *self)
{
  g_clear_handle_id (&self->debounce_source, g_source_remove);
  drop (&self->tried_run);
}

/* The outlook answers at once; days it does not know have to be asked for. */
static void
show_tried (TptFieldPage *self)
{
  g_autoptr (TptJobDue) tried = self->outlook != NULL ? tpt_job_outlook_ask (self->outlook, self->tried_round) : NULL;

  if (tried != NULL)
    {
      stop_trying (self);
      show_due (self, tried);
    }
  else if (self->debounce_source == 0)
    self->debounce_source = g_timeout_add (DEBOUNCE_MS, debounce_cb, self);
}

static void
outlook_ran_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptFieldPage) self = data;

  if (!finish (self, source, result, self->outlook_run))
    return;
  g_set_object (&self->outlook, TPT_JOB_OUTLOOK (tpt_project_get_job (result)));
  if (self->tried_round != TPT_NO_INSTANT)
    show_tried (self);
  else
    show_cost (self);
}

static void
run_outlook (TptFieldPage *self)
{
  g_autoptr (TptJobOutlook) job = tpt_job_outlook_new (self->planned);

  tpt_project_run_async (self->project, TPT_JOB (job), renew (&self->outlook_run), outlook_ran_cb, g_object_ref (self));
}

static void
due_ran_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptFieldPage) self = data;

  if (!finish (self, source, result, self->due_run))
    return;
  g_set_object (&self->planned, TPT_JOB_DUE (tpt_project_get_job (result)));
  g_clear_object (&self->outlook);
  show_due (self, self->planned);
  run_outlook (self);
}

static void
run_due (TptFieldPage *self)
{
  g_autoptr (TptJobDue) job = tpt_job_due_new (TPT_NO_INSTANT, TPT_NO_INSTANT);

  if (self->project != NULL)
    tpt_project_run_async (self->project, TPT_JOB (job), renew (&self->due_run), due_ran_cb, g_object_ref (self));
}

/* The chosen station may be gone: it is read again once that is known. */
static void
changed_cb (TptFieldPage *self)
{
  self->station_stale = TRUE;
  run_due (self);
  run_tracks (self);
}

static void
station_chosen_cb (TptFieldPage *self, const char *code)
{
  tpt_field_page_choose (self, code);
}

static void
round_moving_cb (TptFieldPage *self, gint64 at)
{
  if (self->planned == NULL)
    return;
  self->tried_round = at;
  if (at != TPT_NO_INSTANT && at != tpt_job_due_get_until (self->planned))
    {
      show_tried (self);
      return;
    }
  self->tried_round = TPT_NO_INSTANT;
  stop_trying (self);
  show_due (self, self->planned);
}

static void
round_saved_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptFieldPage) self = data;
  g_autoptr (GError) error = NULL;

  if (tpt_project_run_finish (TPT_PROJECT (source), result, &error))
    return; /* the project says that it has changed */
  if (self->project != TPT_PROJECT (source))
    return;
  gtk_widget_activate_action (GTK_WIDGET (self), "win.complain", "s", error->message);
  run_due (self);
}

static void
round_set_cb (TptFieldPage *self, gint64 at)
{
  g_autofree char *day = tpt_format_iso_day (at, tpt_project_get_zone (self->project));
  g_autofree char *what = g_strdup_printf (_("Plan the round on %s"), day);
  g_autoptr (TptJobEdit) job = tpt_job_edit_new (what);

  self->tried_round = TPT_NO_INSTANT;
  stop_trying (self);
  tpt_job_edit_set_setting (job, "round_at", day);
  tpt_project_run_async (self->project, TPT_JOB (job), NULL, round_saved_cb, g_object_ref (self));
}

static gboolean
share_cb (gpointer data)
{
  TptFieldPage *self = data;
  int least;

  self->share_source = 0;
  g_object_get (self->inner, "min-position", &least, NULL);
  gtk_paned_set_position (self->inner, MAX (least, gtk_widget_get_width (GTK_WIDGET (self->inner)) - STATION_WIDTH));
  return G_SOURCE_REMOVE;
}

/* The right pane takes its share once there is a width to share. This comes
 * while the panes are being laid out, so it has to wait for the end of that. */
static void
max_position_cb (TptFieldPage *self)
{
  int most, least;

  g_object_get (self->inner, "max-position", &most, "min-position", &least, NULL);
  if (most <= least || most == G_MAXINT)
    return;
  g_signal_handlers_disconnect_by_func (self->inner, max_position_cb, self);
  self->share_source = g_idle_add_full (G_PRIORITY_HIGH_IDLE, share_cb, self, NULL);
}

static void
tpt_field_page_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  switch (id)
    {
    case PROP_CHOSEN:
      g_value_set_string (value, TPT_FIELD_PAGE (object)->chosen);
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
tpt_field_page_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  switch (id)
    {
    case PROP_CHOSEN:
      tpt_field_page_choose (TPT_FIELD_PAGE (object), g_value_get_string (value));
      break;
    default:
      G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
    }
}

static void
forget (TptFieldPage *self)
{
  stop_trying (self);
  drop (&self->due_run);
  drop (&self->outlook_run);
  drop (&self->tracks_run);
  drop (&self->station_run);
  g_clear_object (&self->planned);
  g_clear_object (&self->due);
  g_clear_object (&self->outlook);
  g_clear_object (&self->station);
  g_clear_pointer (&self->station_code, g_free);
  self->tried_round = TPT_NO_INSTANT;
  if (self->project != NULL)
    g_signal_handlers_disconnect_by_func (self->project, changed_cb, self);
  g_clear_object (&self->project);
}

static void
tpt_field_page_dispose (GObject *object)
{
  TptFieldPage *self = TPT_FIELD_PAGE (object);

  forget (self);
  g_clear_handle_id (&self->share_source, g_source_remove);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_FIELD_PAGE);
  g_clear_pointer (&self->chosen, g_free);

  G_OBJECT_CLASS (tpt_field_page_parent_class)->dispose (object);
}

static void
tpt_field_page_class_init (TptFieldPageClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = tpt_field_page_dispose;
  object_class->get_property = tpt_field_page_get_property;
  object_class->set_property = tpt_field_page_set_property;

  properties[PROP_CHOSEN] = g_param_spec_string ("chosen", NULL, NULL, NULL,
                                                 G_PARAM_READWRITE | G_PARAM_EXPLICIT_NOTIFY | G_PARAM_STATIC_STRINGS);
  g_object_class_install_properties (object_class, N_PROPS, properties);

  g_type_ensure (TPT_TYPE_DUE_LIST);
  g_type_ensure (TPT_TYPE_FIGURE_VIEW);
  g_type_ensure (TPT_TYPE_MAP_VIEW);
  g_type_ensure (TPT_TYPE_STATION_PAGE);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/field/tpt-field-page.ui");
  gtk_widget_class_bind_template_child (widget_class, TptFieldPage, outer);
  gtk_widget_class_bind_template_child (widget_class, TptFieldPage, inner);
  gtk_widget_class_bind_template_child (widget_class, TptFieldPage, list);
  gtk_widget_class_bind_template_child (widget_class, TptFieldPage, map);
  gtk_widget_class_bind_template_child (widget_class, TptFieldPage, below);
  gtk_widget_class_bind_template_child (widget_class, TptFieldPage, timeline_title);
  gtk_widget_class_bind_template_child (widget_class, TptFieldPage, timeline);
  gtk_widget_class_bind_template_child (widget_class, TptFieldPage, page);
  gtk_widget_class_bind_template_callback (widget_class, station_chosen_cb);
  gtk_widget_class_bind_template_callback (widget_class, round_moving_cb);
  gtk_widget_class_bind_template_callback (widget_class, round_set_cb);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
}

static void
tpt_field_page_init (TptFieldPage *self)
{
  self->tried_round = TPT_NO_INSTANT;
  gtk_widget_init_template (GTK_WIDGET (self));
  g_signal_connect_object (self->inner, "notify::max-position", G_CALLBACK (max_position_cb), self, G_CONNECT_SWAPPED);
}

GtkWidget *
tpt_field_page_new (void)
{
  return g_object_new (TPT_TYPE_FIELD_PAGE, NULL);
}

void
tpt_field_page_set_project (TptFieldPage *self, TptProject *project)
{
  if (self->project == project)
    return;
  forget (self);
  tpt_field_page_choose (self, NULL);
  tpt_due_list_clear (self->list);
  tpt_map_view_set_stations (self->map, NULL);
  tpt_map_view_set_tracks (self->map, NULL);
  tpt_station_page_set_project (self->page, project);
  if (project == NULL)
    return;
  self->project = g_object_ref (project);
  g_signal_connect_object (project, "changed", G_CALLBACK (changed_cb), self, G_CONNECT_SWAPPED);
  changed_cb (self);
}

void
tpt_field_page_choose (TptFieldPage *self, const char *code)
{
  if (g_strcmp0 (self->chosen, code) == 0)
    return;
  g_free (self->chosen);
  self->chosen = g_strdup (code);
  tpt_due_list_choose (self->list, self->chosen);
  tpt_map_view_set_selected (self->map, self->chosen);
  run_station (self);
  show_station (self);
  g_object_notify_by_pspec (G_OBJECT (self), properties[PROP_CHOSEN]);
}

const char *
tpt_field_page_get_chosen (TptFieldPage *self)
{
  return self->chosen;
}
