#include "config.h"

#include "tpt-visit-dialog.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "tpt-field.h"
#include "tpt-job-lookup.h"
#include "tpt-job-station.h"
#include "tpt-reading-row.h"
#include "tpt-shelf.h"

static const char *const founds[] = { "working", "dead", "card-full", "disturbed", "gone" };

struct _TptVisitDialog {
  TptFormDialog parent_instance;

  char *station; /* (owned): its code */
  gboolean bring_in;
  TptJobStation *page; /* (owned) (nullable): once it is there */
  GListModel *spare;   /* (owned) (nullable): cards on the shelf */

  GtkToggleButton *found[G_N_ELEMENTS (founds)];
  GHashTable *fields; /* (owned) (element-type utf8 TptField): of the visit */
  GtkBox *rig;
  GPtrArray *rows;    /* (element-type TptReadingRow) */
};

G_DEFINE_FINAL_TYPE (TptVisitDialog, tpt_visit_dialog, TPT_TYPE_FORM_DIALOG)

static TptField *
get_field (TptVisitDialog *self, const char *column)
{
  return g_hash_table_lookup (self->fields, column);
}

static const char *
get_found (TptVisitDialog *self)
{
  for (gsize i = 0; i < G_N_ELEMENTS (founds); i++)
    if (gtk_toggle_button_get_active (self->found[i]))
      return founds[i];
  return NULL;
}

static TptRecord *
make_visit (TptVisitDialog *self)
{
  g_autoptr (TptRecord) visit = tpt_record_new (TPT_TABLE_VISITS);
  GHashTableIter iter;
  gpointer field;

  tpt_record_set_text (visit, "station", self->station);
  tpt_record_set_text (visit, "found", get_found (self));
  g_hash_table_iter_init (&iter, self->fields);
  while (g_hash_table_iter_next (&iter, NULL, &field))
    if (tpt_field_get_error (field) != NULL || !tpt_field_apply (field, visit))
      return NULL;
  return g_steal_pointer (&visit);
}

static void
check (TptVisitDialog *self)
{
  g_autoptr (TptRecord) visit = make_visit (self);
  g_autoptr (GError) error = NULL;
  gboolean valid = visit != NULL && self->page != NULL;
  const char *column = NULL;

  /* The code is made when the visit is saved. */
  if (valid)
    {
      tpt_record_set_text (visit, "visit", "x");
      valid = tpt_record_check (visit, &column, &error);
    }
  for (guint i = 0; i < self->rows->len; i++)
    valid = valid && tpt_reading_row_is_valid (self->rows->pdata[i]);
  tpt_form_dialog_set_message (TPT_FORM_DIALOG (self), error != NULL ? error->message : NULL);
  tpt_form_dialog_set_valid (TPT_FORM_DIALOG (self), valid);
}

static void
changed_cb (TptVisitDialog *self)
{
  check (self);
}

static void
found_cb (TptVisitDialog *self, GtkToggleButton *button)
{
  if (!gtk_toggle_button_get_active (button))
    return;
  for (guint i = 0; i < self->rows->len; i++)
    tpt_reading_row_expect (self->rows->pdata[i], get_found (self));
  check (self);
}

static void
end_fitting (TptJobEdit *job, TptRecord *fitting, TptInstant at)
{
  g_autoptr (TptRecord) ended = tpt_record_copy (fitting);

  tpt_record_set_instant (ended, "to", at);
  tpt_job_edit_save (job, ended);
}

static void
move_card (TptVisitDialog *self, TptJobEdit *job, TptReadingRow *row, TptInstant at)
{
  TptRecord *card = tpt_reading_row_get_replacement (row);
  TptRecord *fitting = tpt_rig_item_get_fitting (tpt_reading_row_get_item (row));
  g_autoptr (TptRecord) next = NULL;

  if (card == NULL || self->bring_in)
    return;
  end_fitting (job, fitting, at);
  next = tpt_record_new (TPT_TABLE_FITTINGS);
  tpt_record_set_text (next, "deployment", tpt_record_get_text (fitting, "deployment"));
  tpt_record_set_text (next, "unit", tpt_record_get_code (card));
  tpt_record_set_instant (next, "from", at);
  tpt_job_edit_save (job, next);
}

static void
end_deployment (TptVisitDialog *self, TptJobEdit *job, TptInstant at)
{
  TptRecord *deployment = tpt_job_station_get_deployment (self->page);
  g_autoptr (TptRecord) ended = NULL;

  if (!self->bring_in || deployment == NULL)
    return;
  for (guint i = 0; i < self->rows->len; i++)
    end_fitting (job, tpt_rig_item_get_fitting (tpt_reading_row_get_item (self->rows->pdata[i])), at);
  ended = tpt_record_copy (deployment);
  tpt_record_set_instant (ended, "end", at);
  tpt_job_edit_save (job, ended);
}

static const char *
station_title (TptVisitDialog *self)
{
  const char *name = tpt_record_get_text (tpt_job_station_get_record (self->page), "name");

  return name != NULL ? name : self->station;
}

static void
tpt_visit_dialog_save (TptFormDialog *dialog)
{
  TptVisitDialog *self = TPT_VISIT_DIALOG (dialog);
  g_autoptr (TptRecord) visit = make_visit (self);
  g_autofree char *what =
    g_strdup_printf (self->bring_in ? _("Bring in %s") : _("Record visit at %s"), station_title (self));
  TptInstant at;
  TptJobEdit *job;

  if (visit == NULL)
    return;
  at = tpt_record_get_instant (visit, "at");
  job = tpt_job_edit_new (what);
  tpt_job_edit_save (job, visit);
  for (guint i = 0; i < self->rows->len; i++)
    {
      g_autoptr (TptRecord) reading = tpt_reading_row_make_reading (self->rows->pdata[i]);

      if (reading != NULL)
        tpt_job_edit_save (job, reading);
      move_card (self, job, self->rows->pdata[i], at);
    }
  end_deployment (self, job, at);
  tpt_form_dialog_run (dialog, job, self->bring_in ? _("Rig brought in") : _("Visit recorded"));
}

/* What was refused is told where it is, when it is in the visit itself. */
static void
tpt_visit_dialog_refused (TptFormDialog *dialog, TptJobEdit *job, const char *reason)
{
  const char *column = NULL;
  TptRecord *fault = tpt_job_edit_get_fault (job, &column);
  TptField *field = NULL;

  if (fault != NULL && column != NULL && tpt_record_get_table (fault)->id == TPT_TABLE_VISITS)
    field = get_field (TPT_VISIT_DIALOG (dialog), column);
  if (field == NULL)
    {
      tpt_form_dialog_set_message (dialog, reason);
      return;
    }
  tpt_field_set_error (field, reason);
  gtk_widget_grab_focus (GTK_WIDGET (field));
}

static TptField *
add_field (TptVisitDialog *self, GtkWidget *grid, const char *column, gboolean wide)
{
  const TptTable *table = tpt_table_get (TPT_TABLE_VISITS);
  TptField *field = tpt_field_new (&table->columns[tpt_table_find (table, column)],
                                   tpt_project_get_zone (tpt_form_dialog_get_project (TPT_FORM_DIALOG (self))));

  g_hash_table_insert (self->fields, g_strdup (column), field);
  g_signal_connect_swapped (field, "changed", G_CALLBACK (changed_cb), self);
  tpt_form_dialog_put (grid, GTK_WIDGET (field), wide);
  return field;
}

static void
add_found (TptVisitDialog *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 0);

  gtk_widget_add_css_class (box, "linked");
  gtk_widget_add_css_class (box, "found");
  gtk_box_set_homogeneous (GTK_BOX (box), TRUE);
  for (gsize i = 0; i < G_N_ELEMENTS (founds); i++)
    {
      self->found[i] = GTK_TOGGLE_BUTTON (gtk_toggle_button_new_with_label (tpt_choice_label (founds[i])));
      if (i > 0)
        gtk_toggle_button_set_group (self->found[i], self->found[0]);
      g_signal_connect_swapped (self->found[i], "toggled", G_CALLBACK (found_cb), self);
      gtk_widget_set_size_request (GTK_WIDGET (self->found[i]), -1, 44);
      gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->found[i]));
    }
  gtk_toggle_button_set_active (self->found[0], TRUE);
  gtk_accessible_update_property (GTK_ACCESSIBLE (box), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Found"), -1);
  tpt_form_dialog_add (TPT_FORM_DIALOG (self), _("Found"), box);
}

static void
same_clock_cb (TptVisitDialog *self)
{
  g_autofree char *at = tpt_field_get_text (get_field (self, "at"));
  TptReading reading;

  tpt_field_set_text (get_field (self, "true_clock"), at);
  if (tpt_reading_parse (at, &reading, NULL))
    {
      TptReading plain = { reading.clock_ms, TPT_NO_OFFSET };
      g_autofree char *clock = tpt_reading_format (plain);

      tpt_field_set_text (get_field (self, "camera_clock"), clock);
    }
}

static void
add_clock (TptVisitDialog *self)
{
  GtkWidget *grid = tpt_form_dialog_add_grid (TPT_FORM_DIALOG (self), _("Camera’s clock against the true time"));
  GtkWidget *button = gtk_button_new_with_label (_("The clock is right"));

  add_field (self, grid, "camera_clock", FALSE);
  add_field (self, grid, "true_clock", FALSE);
  gtk_widget_set_halign (button, GTK_ALIGN_START);
  g_signal_connect_swapped (button, "clicked", G_CALLBACK (same_clock_cb), self);
  tpt_form_dialog_put (grid, button, TRUE);
}

static void
fill (TptVisitDialog *self, TptProject *project)
{
  TptInstant now = tpt_project_get_now (project, NULL);
  GtkWidget *grid = tpt_form_dialog_add_grid (TPT_FORM_DIALOG (self), NULL);

  add_field (self, grid, "at", FALSE);
  add_field (self, grid, "people", FALSE);
  add_found (self);
  self->rig = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 6));
  tpt_form_dialog_add (TPT_FORM_DIALOG (self), _("Rig"), GTK_WIDGET (self->rig));
  grid = tpt_form_dialog_add_grid (TPT_FORM_DIALOG (self), _("Card and notes"));
  add_field (self, grid, "frames_on_card", FALSE);
  add_field (self, grid, "left", FALSE);
  add_field (self, grid, "notes", TRUE);
  add_clock (self);
  tpt_field_set_instant (get_field (self, "at"), now / TPT_MINUTE * TPT_MINUTE);
  tpt_field_set_text (get_field (self, "left"), self->bring_in ? _("brought in") : _("working"));
}

/* Whoever went round last most likely goes round again. */
static void
people_done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptVisitDialog) self = data;
  g_autofree char *typed = NULL;
  GListModel *visits;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, NULL) || tpt_form_dialog_get_project (TPT_FORM_DIALOG (self)) == NULL)
    return;
  typed = tpt_field_get_text (get_field (self, "people"));
  visits = tpt_job_lookup_get_records (TPT_JOB_LOOKUP (tpt_project_get_job (result)));
  for (guint i = g_list_model_get_n_items (visits); *typed == '\0' && i > 0; i--)
    {
      g_autoptr (TptRecord) visit = g_list_model_get_item (visits, i - 1);

      if (!tpt_record_is_set (visit, "people"))
        continue;
      tpt_field_set_text (get_field (self, "people"), tpt_record_get_text (visit, "people"));
      return;
    }
}

static void
read_people (TptVisitDialog *self, TptProject *project)
{
  g_autoptr (TptJobLookup) job = tpt_job_lookup_new (TPT_TABLE_VISITS, NULL, NULL);

  tpt_project_run_async (project, TPT_JOB (job), tpt_form_dialog_get_cancellable (TPT_FORM_DIALOG (self)), people_done_cb,
                         g_object_ref (self));
}

static void
add_rows (TptVisitDialog *self)
{
  GListModel *rig = tpt_job_station_get_rig (self->page);
  guint n = g_list_model_get_n_items (rig);

  for (guint i = 0; i < n; i++)
    {
      g_autoptr (TptRigItem) item = g_list_model_get_item (rig, i);
      TptReadingRow *row = tpt_reading_row_new (item, self->spare, i == 0);

      tpt_reading_row_expect (row, get_found (self));
      g_ptr_array_add (self->rows, row);
      gtk_box_append (self->rig, GTK_WIDGET (row));
      g_signal_connect_swapped (row, "changed", G_CALLBACK (changed_cb), self);
    }
  if (n == 0)
    {
      GtkWidget *label = gtk_label_new (_("No rig stands here; the visit is recorded without readings."));

      gtk_label_set_xalign (GTK_LABEL (label), 0);
      gtk_widget_add_css_class (label, "dim-label");
      gtk_box_append (self->rig, label);
    }
}

static void
station_done_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptVisitDialog) self = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *title = NULL;

  if (!tpt_project_run_finish (TPT_PROJECT (source), result, &error))
    {
      if (!g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
        tpt_form_dialog_set_message (TPT_FORM_DIALOG (self), error->message);
      return;
    }
  if (tpt_form_dialog_get_project (TPT_FORM_DIALOG (self)) == NULL)
    return;
  self->page = g_object_ref (TPT_JOB_STATION (tpt_project_get_job (result)));
  title = g_strdup_printf (self->bring_in ? _("Bring in: %s") : _("Record visit: %s"), station_title (self));
  gtk_window_set_title (GTK_WINDOW (self), title);
  add_rows (self);
  check (self);
}

/* The shelf first, so that the rows can offer it. */
static void
shelf_done_cb (GListModel *shelf, const GError *error, gpointer data)
{
  g_autoptr (TptVisitDialog) self = data;
  TptFormDialog *dialog = TPT_FORM_DIALOG (self);
  TptProject *project = tpt_form_dialog_get_project (dialog);
  g_autoptr (TptJobStation) job = NULL;

  if (project == NULL)
    return; /* closed meanwhile */
  if (error != NULL)
    tpt_form_dialog_set_message (dialog, error->message);
  if (shelf != NULL)
    self->spare = tpt_shelf_filter (shelf, "card");
  job = tpt_job_station_new (self->station, tpt_project_get_now (project, NULL));
  tpt_project_run_async (project, TPT_JOB (job), tpt_form_dialog_get_cancellable (dialog), station_done_cb, g_object_ref (self));
}

static void
tpt_visit_dialog_dispose (GObject *object)
{
  TptVisitDialog *self = TPT_VISIT_DIALOG (object);

  g_clear_object (&self->page);
  g_clear_object (&self->spare);

  G_OBJECT_CLASS (tpt_visit_dialog_parent_class)->dispose (object);
}

static void
tpt_visit_dialog_finalize (GObject *object)
{
  TptVisitDialog *self = TPT_VISIT_DIALOG (object);

  g_free (self->station);
  g_hash_table_unref (self->fields);
  g_ptr_array_unref (self->rows);

  G_OBJECT_CLASS (tpt_visit_dialog_parent_class)->finalize (object);
}

static void
tpt_visit_dialog_class_init (TptVisitDialogClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = tpt_visit_dialog_dispose;
  G_OBJECT_CLASS (klass)->finalize = tpt_visit_dialog_finalize;
  TPT_FORM_DIALOG_CLASS (klass)->save = tpt_visit_dialog_save;
  TPT_FORM_DIALOG_CLASS (klass)->refused = tpt_visit_dialog_refused;
}

static void
tpt_visit_dialog_init (TptVisitDialog *self)
{
  self->fields = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, NULL);
  self->rows = g_ptr_array_new ();
}

TptVisitDialog *
tpt_visit_dialog_new (GtkWindow *parent, TptProject *project, const char *station, gboolean bring_in)
{
  TptVisitDialog *self = g_object_new (TPT_TYPE_VISIT_DIALOG, NULL);
  TptFormDialog *dialog = TPT_FORM_DIALOG (self);

  self->station = g_strdup (station);
  self->bring_in = bring_in;
  tpt_form_dialog_set_up (dialog, parent, project, bring_in ? _("Bring in") : _("Record visit"),
                          bring_in ? _("_Bring in") : _("_Record"));
  gtk_window_set_default_size (GTK_WINDOW (self), 720, 740);
  fill (self, project);
  read_people (self, project);
  tpt_shelf_read (project, tpt_form_dialog_get_cancellable (dialog), shelf_done_cb, g_object_ref (self));
  return self;
}

gboolean
tpt_visit_dialog_is_ready (TptVisitDialog *self)
{
  return self->page != NULL;
}

void
tpt_visit_dialog_present (GtkWindow *parent, TptProject *project, const char *station)
{
  gtk_window_present (GTK_WINDOW (tpt_visit_dialog_new (parent, project, station, FALSE)));
}
