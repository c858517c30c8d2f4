#include "config.h"

#include "tpt-intake-dialog.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-field.h"
#include "tpt-job-intake.h"
#include "tpt-job-lookup.h"
#include "tpt-search.h"
#include "tpt-words.h"

struct _TptIntakeDialog {
  TptFormDialog parent_instance;

  char *station;           /* (owned) (nullable) */
  char *folder;            /* (owned) (nullable) */
  GListModel *deployments; /* (owned) (nullable): newest first */
  GListModel *stations;    /* (owned) (nullable): for their names */
  TptJobIntake *running;   /* (owned) (nullable) */
  GCancellable *stop;      /* (owned) (nullable): of the run in progress */

  GtkButton *choose;
  GtkDropDown *deployment;
  TptField *clock_read, *clock_true;
  GtkProgressBar *progress;
  GtkLabel *outcome;
};

G_DEFINE_FINAL_TYPE (TptIntakeDialog, tpt_intake_dialog, TPT_TYPE_FORM_DIALOG)

static TptRecord *
get_deployment (TptIntakeDialog *self)
{
  guint selected = gtk_drop_down_get_selected (self->deployment);
  TptRecord *record;

  if (self->deployments == NULL || selected == GTK_INVALID_LIST_POSITION)
    return NULL;
  record = g_list_model_get_item (self->deployments, selected);
  if (record != NULL)
    g_object_unref (record); /* the list keeps it */
  return record;
}

static void
changed_cb (TptIntakeDialog *self)
{
  g_autofree char *read = tpt_field_get_text (self->clock_read), *true_time = tpt_field_get_text (self->clock_true);
  gboolean pair = (*read == '\0') == (*true_time == '\0');

  tpt_form_dialog_set_valid (TPT_FORM_DIALOG (self), self->folder != NULL && get_deployment (self) != NULL && pair &&
                                                       tpt_field_get_error (self->clock_read) == NULL &&
                                                       tpt_field_get_error (self->clock_true) == NULL);
}

static void
append_line (GString *text, char *line)
{
  g_string_append_printf (text, "%s%s", text->len == 0 ? "" : "\n", line);
  g_free (line);
}

static void
append_notes (GString *text, GPtrArray *notes, const char *format)
{
  for (guint i = 0; i < notes->len && i < 12; i++)
    {
      const TptIntakeNote *note = notes->pdata[i];
      g_auto (GStrv) parts = g_strsplit (format, "%s", 3);

      append_line (text, g_strconcat (parts[0], note->file, parts[1], note->reason, parts[2], NULL));
    }
  if (notes->len > 12)
    append_line (text, g_strdup_printf (_("… and %u more"), notes->len - 12));
}

/* "2 h 5 min 3 s", without its parts that are zero. */
static char *
say_duration (gint64 seconds)
{
  const struct {
    gint64 length;
    const char *unit;
  } parts[] = { { 86400, _("d") }, { 3600, _("h") }, { 60, _("min") }, { 1, _("s") } };
  GString *text = g_string_new (NULL);

  for (gsize i = 0; i < G_N_ELEMENTS (parts); i++)
    {
      if (seconds / parts[i].length > 0)
        g_string_append_printf (text, "%s%" G_GINT64_FORMAT " %s", text->len > 0 ? " " : "", seconds / parts[i].length, parts[i].unit);
      seconds %= parts[i].length;
    }
  return g_string_free (text, FALSE);
}

/* (transfer full) (nullable) */
static char *
say_correction (double offset)
{
  g_autofree char *duration = NULL;

  if (isnan (offset) || fabs (offset) < 0.5)
    return NULL;
  duration = say_duration (llround (fabs (offset)));
  return g_strdup_printf (offset > 0 ? _("The clock was slow: every time was put forward by %s. What the clock showed is kept.")
                                     : _("The clock was fast: every time was put back by %s. What the clock showed is kept."),
                          duration);
}

static void
append_taken (GString *text, TptJobIntake *job, TptZone *zone)
{
  TptInstant first = tpt_job_intake_get_first (job), last = tpt_job_intake_get_last (job);
  g_autofree char *frames = tpt_words_number ((double) tpt_job_intake_get_frames (job));
  g_autofree char *triggers = tpt_words_number ((double) tpt_job_intake_get_triggers (job));
  char *correction = say_correction (tpt_job_intake_get_clock_offset (job));

  append_line (text, g_strdup_printf (_("%s frames in %s triggers taken in."), frames, triggers));
  if (first != TPT_NO_INSTANT)
    {
      g_autofree char *from = tpt_words_instant (first, zone), *to = tpt_words_instant (last, zone);
      append_line (text, g_strdup_printf (_("From %s to %s."), from, to));
    }
  if (correction != NULL)
    append_line (text, correction);
}

static char *
say_outcome (TptIntakeDialog *self, TptJobIntake *job)
{
  GString *text = g_string_new (NULL);
  gboolean any = tpt_job_intake_get_frames (job) > 0;

  if (any)
    append_taken (text, job, tpt_project_get_zone (tpt_form_dialog_get_project (TPT_FORM_DIALOG (self))));
  else
    append_line (text, g_strdup (_("There was nothing new to take in.")));
  if (tpt_job_intake_get_duplicates (job) > 0)
    append_line (text, g_strdup_printf (_("%d files are on record already and were not taken twice."),
                                        (int) tpt_job_intake_get_duplicates (job)));
  append_notes (text, tpt_job_intake_get_unreadable (job), _("Set aside: %s (%s)"));
  append_notes (text, tpt_job_intake_get_damaged (job), _("Damaged: %s (%s)"));
  for (guint i = 0; i < tpt_job_intake_get_doubts (job)->len; i++)
    append_line (text, g_strdup (tpt_job_intake_get_doubts (job)->pdata[i]));
  append_line (text, g_strdup (any ? _("Every picture was copied and read back. The card itself was not touched.")
                                   : _("The card itself was not touched.")));
  return g_string_free (text, FALSE);
}

/* What is being taken in stays what it is until that is done. */
static void
set_inputs_sensitive (TptIntakeDialog *self, gboolean sensitive)
{
  gtk_widget_set_sensitive (GTK_WIDGET (self->choose), sensitive);
  gtk_widget_set_sensitive (GTK_WIDGET (self->deployment), sensitive);
  gtk_widget_set_sensitive (GTK_WIDGET (self->clock_read), sensitive);
  gtk_widget_set_sensitive (GTK_WIDGET (self->clock_true), sensitive);
}

static void
end_run (TptIntakeDialog *self)
{
  set_inputs_sensitive (self, TRUE);
  g_clear_object (&self->running);
  g_clear_object (&self->stop);
  gtk_widget_set_visible (GTK_WIDGET (self->progress), FALSE);
  tpt_form_dialog_set_busy (TPT_FORM_DIALOG (self), FALSE);
}

static void
intake_done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptIntakeDialog) self = data;
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);
  g_autofree char *outcome = NULL, *failure = NULL;

  if (tpt_form_dialog_get_project (TPT_FORM_DIALOG (self)) == NULL)
    return;
  if (good)
    outcome = say_outcome (self, TPT_JOB_INTAKE (tpt_project_get_job (result)));
  else if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    outcome = g_strdup (_("Stopped. Nothing is lost: start again and it goes on from here."));
  else
    failure = g_strdup_printf (_("%s\nThe card was not touched. It can be started again and goes on from here."), error->message);
  end_run (self);
  tpt_form_dialog_set_done (TPT_FORM_DIALOG (self), good);
  gtk_label_set_text (self->outcome, outcome != NULL ? outcome : "");
  gtk_widget_set_visible (GTK_WIDGET (self->outcome), outcome != NULL);
  tpt_form_dialog_set_message (TPT_FORM_DIALOG (self), failure);
}

static void
progress_cb (TptIntakeDialog *self)
{
  g_autofree char *text = NULL;

  if (self->running == NULL)
    return;
  text = tpt_job_get_progress_text (TPT_JOB (self->running));
  gtk_progress_bar_set_fraction (self->progress, tpt_job_get_progress (TPT_JOB (self->running)));
  gtk_progress_bar_set_text (self->progress, text);
}

static void
set_clock (TptIntakeDialog *self, TptJobIntake *job)
{
  g_autofree char *read = tpt_field_get_text (self->clock_read), *true_time = tpt_field_get_text (self->clock_true);

  if (*read != '\0')
    tpt_job_intake_set_clock (job, read, true_time);
}

static void
tpt_intake_dialog_save (TptFormDialog *dialog)
{
  TptIntakeDialog *self = TPT_INTAKE_DIALOG (dialog);

  self->running = tpt_job_intake_new (tpt_record_get_code (get_deployment (self)), self->folder);
  self->stop = g_cancellable_new ();
  set_clock (self, self->running);
  g_signal_connect_object (self->running, "notify::progress", G_CALLBACK (progress_cb), self, G_CONNECT_SWAPPED);
  gtk_widget_set_visible (GTK_WIDGET (self->outcome), FALSE);
  gtk_widget_set_visible (GTK_WIDGET (self->progress), TRUE);
  gtk_progress_bar_set_fraction (self->progress, 0);
  gtk_progress_bar_set_text (self->progress, _("Looking through the card…"));
  tpt_form_dialog_set_message (dialog, NULL);
  set_inputs_sensitive (self, FALSE);
  tpt_form_dialog_set_done (dialog, FALSE);
  tpt_form_dialog_set_busy (dialog, TRUE);
  tpt_project_run_async (tpt_form_dialog_get_project (dialog), TPT_JOB (self->running), self->stop, intake_done_cb,
                         g_object_ref (self));
}

/* The first close stops a run and leaves the dialog to tell what came of it. */
static gboolean
close_request_cb (TptIntakeDialog *self)
{
  if (self->stop == NULL)
    return FALSE;
  g_cancellable_cancel (self->stop);
  return TRUE;
}

static void
show_folder (TptIntakeDialog *self)
{
  g_autofree char *shown = self->folder != NULL ? g_filename_display_name (self->folder) : g_strdup (_("Choose the card’s folder…"));

  gtk_button_set_label (self->choose, shown);
  changed_cb (self);
}

void
tpt_intake_dialog_set_folder (TptIntakeDialog *self, const char *path)
{
  g_free (self->folder);
  self->folder = g_strdup (path);
  show_folder (self);
}

static void
chosen_cb (GtkNativeDialog *chooser, int response, TptIntakeDialog *self)
{
  if (response == GTK_RESPONSE_ACCEPT)
    {
      g_autoptr (GFile) file = gtk_file_chooser_get_file (GTK_FILE_CHOOSER (chooser));
      g_autofree char *path = g_file_get_path (file);

      tpt_intake_dialog_set_folder (self, path);
    }
  g_object_unref (chooser);
}

static void
choose_cb (TptIntakeDialog *self)
{
  GtkFileChooserNative *chooser = gtk_file_chooser_native_new (_("The card’s folder"), GTK_WINDOW (self),
                                                               GTK_FILE_CHOOSER_ACTION_SELECT_FOLDER, _("_Choose"), NULL);

  g_signal_connect_object (chooser, "response", G_CALLBACK (chosen_cb), self, 0);
  gtk_native_dialog_show (GTK_NATIVE_DIALOG (chooser));
}

static gboolean
drop_cb (GtkDropTarget *target, const GValue *value, double x, double y, TptIntakeDialog *self)
{
  GSList *files = gdk_file_list_get_files (g_value_get_boxed (value));
  g_autofree char *path = files != NULL ? g_file_get_path (files->data) : NULL;
  gboolean folder = self->running == NULL && path != NULL && g_file_test (path, G_FILE_TEST_IS_DIR);

  g_slist_free (files);
  if (folder)
    tpt_intake_dialog_set_folder (self, path);
  return folder;
}

/* A clock pair on its way, and for which deployment it was asked. */
typedef struct {
  TptIntakeDialog *dialog; /* (owned) */
  TptRecord *deployment;   /* (owned) */
} ClockLookup;

static void
free_clock_lookup (ClockLookup *lookup)
{
  g_object_unref (lookup->dialog);
  g_object_unref (lookup->deployment);
  g_free (lookup);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (ClockLookup, free_clock_lookup)

/* A visit before or after it may have seen another camera. */
static gboolean
was_during (TptRecord *visit, TptRecord *deployment)
{
  TptInstant at = tpt_record_get_instant (visit, "at"), end = tpt_record_get_instant (deployment, "end");

  return at >= tpt_record_get_instant (deployment, "start") && (end == TPT_NO_INSTANT || at <= end);
}

static void
show_clock (TptIntakeDialog *self, TptRecord *visit)
{
  tpt_field_set_text (self->clock_read, tpt_record_get_text (visit, "camera_clock"));
  tpt_field_set_instant (self->clock_true, tpt_record_get_instant (visit, "true_clock"));
}

/* The pair read on the newest visit of the deployment that has one. */
static void
visits_done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (ClockLookup) lookup = data;
  TptIntakeDialog *self = lookup->dialog;
  GListModel *visits;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, NULL) || tpt_form_dialog_get_project (TPT_FORM_DIALOG (self)) == NULL ||
      get_deployment (self) != lookup->deployment)
    return;
  visits = tpt_job_lookup_get_records (TPT_JOB_LOOKUP (tpt_project_get_job (result)));
  for (guint i = g_list_model_get_n_items (visits); i > 0; i--)
    {
      g_autoptr (TptRecord) visit = g_list_model_get_item (visits, i - 1);

      if (!tpt_record_is_set (visit, "camera_clock") || !was_during (visit, lookup->deployment))
        continue;
      show_clock (self, visit);
      return;
    }
}

static void
deployment_cb (TptIntakeDialog *self)
{
  TptFormDialog *dialog = TPT_FORM_DIALOG (self);
  TptRecord *deployment = get_deployment (self);
  TptProject *project = tpt_form_dialog_get_project (dialog);
  g_autoptr (TptJobLookup) job = NULL;
  ClockLookup *lookup;

  changed_cb (self);
  if (deployment == NULL || project == NULL)
    return;
  tpt_field_set_text (self->clock_read, "");
  tpt_field_set_text (self->clock_true, "");
  lookup = g_new0 (ClockLookup, 1);
  lookup->dialog = g_object_ref (self);
  lookup->deployment = g_object_ref (deployment);
  job = tpt_job_lookup_new (TPT_TABLE_VISITS, "station", tpt_record_get_text (deployment, "station"));
  tpt_project_run_async (project, TPT_JOB (job), tpt_form_dialog_get_cancellable (dialog), visits_done_cb, lookup);
}

/* (transfer none): the station's name, else its code. */
static const char *
name_station (TptIntakeDialog *self, const char *code)
{
  for (guint i = 0; i < g_list_model_get_n_items (self->stations); i++)
    {
      g_autoptr (TptRecord) station = g_list_model_get_item (self->stations, i);

      /* The list keeps the record, and the record its name. */
      if (g_strcmp0 (tpt_record_get_code (station), code) == 0 && tpt_record_is_set (station, "name"))
        return tpt_record_get_text (station, "name");
    }
  return code;
}

/* "Otter bank, since 3 March 2026", "Otter bank, 3 March 2026 to 1 June 2026" */
static char *
name_deployment (TptIntakeDialog *self, TptRecord *deployment)
{
  TptZone *zone = tpt_project_get_zone (tpt_form_dialog_get_project (TPT_FORM_DIALOG (self)));
  const char *station = name_station (self, tpt_record_get_text (deployment, "station"));
  TptRange range = { tpt_record_get_instant (deployment, "start"), tpt_record_get_instant (deployment, "end") };
  g_autofree char *period = NULL;

  if (range.to != TPT_NO_INSTANT)
    {
      period = tpt_words_period (range, zone);
      return g_strdup_printf ("%s, %s", station, period);
    }
  period = tpt_words_date (range.from, zone);
  return g_strdup_printf (_("%s, since %s"), station, period);
}

/* The station's own: the one at work, else the newest. */
static guint
find_preselected (TptIntakeDialog *self)
{
  guint newest = GTK_INVALID_LIST_POSITION;

  for (guint i = 0; i < g_list_model_get_n_items (self->deployments); i++)
    {
      g_autoptr (TptRecord) record = g_list_model_get_item (self->deployments, i);

      if (self->station == NULL || g_strcmp0 (tpt_record_get_text (record, "station"), self->station) != 0)
        continue;
      if (!tpt_record_is_set (record, "end"))
        return i;
      if (newest == GTK_INVALID_LIST_POSITION)
        newest = i;
    }
  return newest != GTK_INVALID_LIST_POSITION ? newest : 0;
}

static void
show_deployments (TptIntakeDialog *self)
{
  g_autoptr (GtkStringList) labels = gtk_string_list_new (NULL);
  guint n = g_list_model_get_n_items (self->deployments);

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TptRecord) record = g_list_model_get_item (self->deployments, i);
      g_autofree char *label = name_deployment (self, record);

      gtk_string_list_append (labels, label);
    }
  gtk_drop_down_set_model (self->deployment, G_LIST_MODEL (labels));
  tpt_search_anywhere (self->deployment);
  gtk_drop_down_set_selected (self->deployment, find_preselected (self));
  if (n == 0)
    tpt_form_dialog_set_message (TPT_FORM_DIALOG (self), _("No rig has been set out yet, so no card can have come home."));
  deployment_cb (self);
}

/* (transfer none) (nullable): what a lookup found, unless it failed, which is
 * told, or the dialog is closed. */
static GListModel *
take_records (TptIntakeDialog *self, GObject *source, GAsyncResult *result)
{
  g_autoptr (GError) error = NULL;

  if (tpt_project_run_finish (TPT_PROJECT (source), result, &error))
    return tpt_form_dialog_get_project (TPT_FORM_DIALOG (self)) != NULL
             ? tpt_job_lookup_get_records (TPT_JOB_LOOKUP (tpt_project_get_job (result))) : NULL;
  if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    tpt_form_dialog_set_message (TPT_FORM_DIALOG (self), error->message);
  return NULL;
}

static void
deployments_done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptIntakeDialog) self = data;
  GListModel *records = take_records (self, source, result);
  GListStore *newest_first;

  if (records == NULL)
    return;
  newest_first = g_list_store_new (TPT_TYPE_RECORD);
  for (guint i = g_list_model_get_n_items (records); i > 0; i--)
    {
      g_autoptr (TptRecord) record = g_list_model_get_item (records, i - 1);
      g_list_store_append (newest_first, record);
    }
  self->deployments = G_LIST_MODEL (newest_first);
  show_deployments (self);
}

static void
look_up (TptIntakeDialog *self, TptTableId table, GAsyncReadyCallback callback)
{
  TptFormDialog *dialog = TPT_FORM_DIALOG (self);
  g_autoptr (TptJobLookup) job = tpt_job_lookup_new (table, NULL, NULL);

  tpt_project_run_async (tpt_form_dialog_get_project (dialog), TPT_JOB (job), tpt_form_dialog_get_cancellable (dialog), callback,
                         g_object_ref (self));
}

static void
stations_done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptIntakeDialog) self = data;
  GListModel *records = take_records (self, source, result);

  if (records == NULL)
    return;
  self->stations = g_object_ref (records);
  look_up (self, TPT_TABLE_DEPLOYMENTS, deployments_done_cb);
}

static TptField *
add_clock (TptIntakeDialog *self, GtkWidget *grid, const char *column)
{
  const TptTable *table = tpt_table_get (TPT_TABLE_VISITS);
  TptField *field = tpt_field_new (&table->columns[tpt_table_find (table, column)],
                                   tpt_project_get_zone (tpt_form_dialog_get_project (TPT_FORM_DIALOG (self))));

  g_signal_connect_swapped (field, "changed", G_CALLBACK (changed_cb), self);
  tpt_form_dialog_put (grid, GTK_WIDGET (field), FALSE);
  return field;
}

static void
fill (TptIntakeDialog *self)
{
  TptFormDialog *dialog = TPT_FORM_DIALOG (self);
  GtkWidget *grid;

  self->choose = GTK_BUTTON (gtk_button_new ());
  g_signal_connect_swapped (self->choose, "clicked", G_CALLBACK (choose_cb), self);
  tpt_form_dialog_add (dialog, _("The card’s folder (or drop it here)"), GTK_WIDGET (self->choose));
  self->deployment = GTK_DROP_DOWN (gtk_drop_down_new (NULL, NULL));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->deployment), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Deployment"), -1);
  g_signal_connect_swapped (self->deployment, "notify::selected", G_CALLBACK (deployment_cb), self);
  tpt_form_dialog_add (dialog, _("The deployment it stood in"), GTK_WIDGET (self->deployment));
  grid = tpt_form_dialog_add_grid (dialog, _("The camera’s clock, from the last visit that noted it"));
  self->clock_read = add_clock (self, grid, "camera_clock");
  self->clock_true = add_clock (self, grid, "true_clock");
  self->progress = GTK_PROGRESS_BAR (gtk_progress_bar_new ());
  gtk_progress_bar_set_show_text (self->progress, TRUE);
  gtk_widget_set_visible (GTK_WIDGET (self->progress), FALSE);
  tpt_form_dialog_add (dialog, NULL, GTK_WIDGET (self->progress));
  self->outcome = GTK_LABEL (gtk_label_new (NULL));
  gtk_label_set_wrap (self->outcome, TRUE);
  gtk_label_set_xalign (self->outcome, 0);
  gtk_label_set_selectable (self->outcome, TRUE);
  gtk_widget_set_visible (GTK_WIDGET (self->outcome), FALSE);
  tpt_form_dialog_add (dialog, NULL, GTK_WIDGET (self->outcome));
}

static void
tpt_intake_dialog_unrealize (GtkWidget *widget)
{
  if (TPT_INTAKE_DIALOG (widget)->stop != NULL)
    g_cancellable_cancel (TPT_INTAKE_DIALOG (widget)->stop);

  GTK_WIDGET_CLASS (tpt_intake_dialog_parent_class)->unrealize (widget);
}

static void
tpt_intake_dialog_dispose (GObject *object)
{
  TptIntakeDialog *self = TPT_INTAKE_DIALOG (object);

  g_clear_object (&self->stop);
  g_clear_object (&self->running);
  g_clear_object (&self->deployments);
  g_clear_object (&self->stations);

  G_OBJECT_CLASS (tpt_intake_dialog_parent_class)->dispose (object);
}

static void
tpt_intake_dialog_finalize (GObject *object)
{
  g_free (TPT_INTAKE_DIALOG (object)->station);
  g_free (TPT_INTAKE_DIALOG (object)->folder);

  G_OBJECT_CLASS (tpt_intake_dialog_parent_class)->finalize (object);
}

static void
tpt_intake_dialog_class_init (TptIntakeDialogClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_intake_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_intake_dialog_finalize;
  GTK_WIDGET_CLASS (klass)->unrealize = tpt_intake_dialog_unrealize;
  TPT_FORM_DIALOG_CLASS (klass)->save = tpt_intake_dialog_save;
}

static void
tpt_intake_dialog_init (TptIntakeDialog *self)
{
  GtkDropTarget *drop = gtk_drop_target_new (GDK_TYPE_FILE_LIST, GDK_ACTION_COPY);

  g_signal_connect (drop, "drop", G_CALLBACK (drop_cb), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (drop));
  g_signal_connect (self, "close-request", G_CALLBACK (close_request_cb), NULL);
}

TptIntakeDialog *
tpt_intake_dialog_new (GtkWindow *parent, TptProject *project, const char *station)
{
  TptIntakeDialog *self = g_object_new (TPT_TYPE_INTAKE_DIALOG, NULL);

  self->station = g_strdup (station);
  tpt_form_dialog_set_up (TPT_FORM_DIALOG (self), parent, project, _("Take in a card"), _("_Take in"));
  fill (self);
  show_folder (self);
  look_up (self, TPT_TABLE_STATIONS, stations_done_cb);
  return self;
}

void
tpt_intake_dialog_present (GtkWindow *parent, TptProject *project, const char *station)
{
  gtk_window_present (GTK_WINDOW (tpt_intake_dialog_new (parent, project, station)));
}
