#include "config.h"

#include "tpt-clock-dialog.h"

#include <glib/gi18n-lib.h>

#include "tpt-card-note.h"
#include "tpt-card-step.h"
#include "tpt-job-clock.h"
#include "tpt-words.h"

struct _TptClockDialog {
  TptFormDialog parent_instance;

  char *batch;     /* (owned) */
  GPtrArray *done; /* (owned) (element-type utf8): ids of the steps in force */
  GtkLabel *state;
  GtkBox *steps;
  GtkBox *doubts;
};

G_DEFINE_FINAL_TYPE (TptClockDialog, tpt_clock_dialog, TPT_TYPE_FORM_DIALOG)

static gboolean
is_in_force (TptClockDialog *self, const char *id)
{
  return g_ptr_array_find_with_equal_func (self->done, id, g_str_equal, NULL);
}

/* (transfer full) (array zero-terminated=1): what is ticked. */
static GStrv
list_ticked (TptClockDialog *self)
{
  g_autoptr (GStrvBuilder) ids = g_strv_builder_new ();

  for (GtkWidget *check = gtk_widget_get_first_child (GTK_WIDGET (self->steps)); check != NULL;
       check = gtk_widget_get_next_sibling (check))
    if (gtk_check_button_get_active (GTK_CHECK_BUTTON (check)))
      g_strv_builder_add (ids, tpt_card_step_get_id (check));
  return g_strv_builder_end (ids);
}

static gboolean
is_as_on_record (TptClockDialog *self, const char *const *ticked)
{
  for (gsize i = 0; ticked[i] != NULL; i++)
    if (!is_in_force (self, ticked[i]))
      return FALSE;
  return g_strv_length ((char **) ticked) == self->done->len;
}

/* Steps in force are worked out anew, as a visit's note may have been put right
 * since; so the action stands open for them too. */
static void
say_what_comes (TptClockDialog *self)
{
  g_auto (GStrv) ticked = list_ticked (self);
  const char *note;

  if (is_as_on_record (self, (const char *const *) ticked))
    note = *ticked == NULL ? _("Nothing is done to the clock now, and none of it is ticked.")
                           : _("This is what is on record. “Put right” works it out anew from the visits’ notes.");
  else
    note = *ticked == NULL ? _("Every frame goes back to what the camera showed.")
                           : _("What is ticked is done to the clock, and nothing else.");
  tpt_form_dialog_set_note (TPT_FORM_DIALOG (self), note);
}

/* (transfer full): the frames, their span, and whether anything was done. */
static char *
say_state (TptClockDialog *self, TptJobClock *job, TptZone *zone)
{
  gint64 n = tpt_job_clock_get_frames (job);
  g_autofree char *number = tpt_words_number ((double) n);
  GString *text = g_string_new (NULL);

  g_string_append_printf (text, ngettext ("%s frame is on record.", "%s frames are on record.", (gulong) n), number);
  if (tpt_job_clock_get_first (job) != TPT_NO_INSTANT)
    {
      g_autofree char *from = tpt_words_instant (tpt_job_clock_get_first (job), zone);
      g_autofree char *to = tpt_words_instant (tpt_job_clock_get_last (job), zone);

      g_string_append_printf (text, _(" They are from %s to %s."), from, to);
    }
  g_string_append_c (text, '\n');
  if (self->done->len == 0)
    g_string_append (text, _("Nothing was done to the clock: they have the times that the camera showed."));
  else
    g_string_append_printf (text, ngettext ("%u step was done to the clock; it is ticked.",
                                            "%u steps were done to the clock; they are ticked.", self->done->len), self->done->len);
  return g_string_free (text, FALSE);
}

static gboolean
is_offered (GPtrArray *steps, const char *id)
{
  for (guint i = 0; i < steps->len; i++)
    if (g_str_equal (((const TptClockStep *) steps->pdata[i])->id, id))
      return TRUE;
  return FALSE;
}

static void
add_doubt (TptClockDialog *self, const char *text)
{
  gtk_box_append (self->doubts, tpt_card_note_new (TPT_CARD_NOTE_CAUTION, text));
}

/* What was done may rest on a note that a visit has no more. */
static void
show_doubts (TptClockDialog *self, TptJobClock *job)
{
  GPtrArray *steps = tpt_job_clock_get_steps (job), *doubts = tpt_job_clock_get_doubts (job);
  guint lost = 0;

  for (guint i = 0; i < self->done->len; i++)
    lost += !is_offered (steps, self->done->pdata[i]);
  if (lost > 0)
    add_doubt (self, _("Something that was done to the clock rests on notes that are on record no more. It ends when you put "
                       "the clock another way."));
  for (guint i = 0; i < doubts->len; i++)
    add_doubt (self, doubts->pdata[i]);
}

static void
show_steps (TptClockDialog *self, GPtrArray *steps, TptZone *zone)
{
  for (guint i = 0; i < steps->len; i++)
    {
      const TptClockStep *step = steps->pdata[i];
      GtkWidget *check = tpt_card_step_new (step, zone);

      gtk_check_button_set_active (GTK_CHECK_BUTTON (check), is_in_force (self, step->id));
      g_signal_connect_object (check, "toggled", G_CALLBACK (say_what_comes), self, G_CONNECT_SWAPPED);
      gtk_box_append (self->steps, check);
    }
}

static void
show (TptClockDialog *self, TptJobClock *job, TptZone *zone)
{
  GPtrArray *steps = tpt_job_clock_get_steps (job);
  const char *const *done = tpt_job_clock_get_done (job);
  g_autofree char *state = NULL;

  for (gsize i = 0; done != NULL && done[i] != NULL; i++)
    if (*done[i] != '\0' && !is_in_force (self, done[i]))
      g_ptr_array_add (self->done, g_strdup (done[i]));
  state = say_state (self, job, zone);
  gtk_label_set_label (self->state, state);
  show_steps (self, steps, zone);
  show_doubts (self, job);
  if (steps->len > 0 || self->done->len > 0)
    say_what_comes (self);
  else
    tpt_form_dialog_set_note (TPT_FORM_DIALOG (self), _("Nothing is known that would have to be done. A visit that notes what the "
                                                        "camera’s clock shows, and the true time, would tell."));
  tpt_form_dialog_set_valid (TPT_FORM_DIALOG (self), steps->len > 0 || self->done->len > 0);
}

/* %FALSE when there is nothing more to do: failed, and told so, or cancelled. */
static gboolean
finish_run (TptClockDialog *self, TptProject *project, GAsyncResult *result)
{
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (project, result, &error);

  if (g_error_matches (error, G_IO_ERROR, G_IO_ERROR_CANCELLED))
    return FALSE;
  tpt_form_dialog_set_busy (TPT_FORM_DIALOG (self), FALSE);
  if (!good)
    tpt_form_dialog_set_message (TPT_FORM_DIALOG (self), error->message);
  return good;
}

static void
looked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptClockDialog) self = data;

  if (finish_run (self, TPT_PROJECT (source), result))
    show (self, TPT_JOB_CLOCK (tpt_project_get_job (result)), tpt_project_get_zone (TPT_PROJECT (source)));
}

static void
run (TptClockDialog *self, TptJobClock *job, GAsyncReadyCallback callback)
{
  TptFormDialog *dialog = TPT_FORM_DIALOG (self);

  tpt_form_dialog_set_message (dialog, NULL);
  tpt_form_dialog_set_busy (dialog, TRUE);
  tpt_project_run_async (tpt_form_dialog_get_project (dialog), TPT_JOB (job), tpt_form_dialog_get_cancellable (dialog), callback,
                         g_object_ref (self));
}

/* (transfer full) */
static char *
say_outcome (TptClockDialog *self, TptJobClock *job)
{
  gint64 n = tpt_job_clock_get_changed (job);
  g_autofree char *number = tpt_words_number ((double) n);

  if (n == 0)
    return g_strdup_printf (_("Every frame of %s has the time it had"), self->batch);
  /* Translators: how many frames, and the code of their batch. */
  return g_strdup_printf (ngettext ("%s frame of %s has another time now", "%s frames of %s have another time now", (gulong) n),
                          number, self->batch);
}

static void
put_right_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptClockDialog) self = data;
  TptJobClock *job = TPT_JOB_CLOCK (tpt_project_get_job (result));
  GtkWindow *parent;
  g_autofree char *text = NULL;

  if (!finish_run (self, TPT_PROJECT (source), result))
    return;
  text = say_outcome (self, job);
  parent = gtk_window_get_transient_for (GTK_WINDOW (self));
  if (parent != NULL)
    gtk_widget_activate_action (GTK_WIDGET (parent), tpt_job_clock_get_changed (job) > 0 ? "win.toast" : "win.say", "s", text);
  gtk_window_destroy (GTK_WINDOW (self));
}

static void
tpt_clock_dialog_save (TptFormDialog *dialog)
{
  TptClockDialog *self = TPT_CLOCK_DIALOG (dialog);
  g_auto (GStrv) ticked = list_ticked (self);
  g_autoptr (TptJobClock) job = tpt_job_clock_new (self->batch, (const char *const *) ticked);

  run (self, job, put_right_cb);
}

static void
tpt_clock_dialog_finalize (GObject *object)
{
  TptClockDialog *self = TPT_CLOCK_DIALOG (object);

  g_free (self->batch);
  g_ptr_array_unref (self->done);

  G_OBJECT_CLASS (tpt_clock_dialog_parent_class)->finalize (object);
}

static void
tpt_clock_dialog_class_init (TptClockDialogClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_clock_dialog_finalize;
  TPT_FORM_DIALOG_CLASS (klass)->save = tpt_clock_dialog_save;
}

static void
tpt_clock_dialog_init (TptClockDialog *self)
{
  self->done = g_ptr_array_new_with_free_func (g_free);
  self->state = GTK_LABEL (gtk_label_new (_("Being looked at…")));
  gtk_label_set_wrap (self->state, TRUE);
  gtk_label_set_xalign (self->state, 0);
  self->steps = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 8));
  self->doubts = GTK_BOX (gtk_box_new (GTK_ORIENTATION_VERTICAL, 6));
}

TptClockDialog *
tpt_clock_dialog_new (GtkWindow *parent, TptProject *project, const char *batch)
{
  TptClockDialog *self = g_object_new (TPT_TYPE_CLOCK_DIALOG, NULL);
  TptFormDialog *dialog = TPT_FORM_DIALOG (self);
  g_autoptr (TptJobClock) look = tpt_job_clock_new_look (batch);
  g_autofree char *title = g_strdup_printf (_("The clock of %s"), batch);

  self->batch = g_strdup (batch);
  tpt_form_dialog_set_up (dialog, parent, project, title, _("_Put right"));
  gtk_window_set_default_size (GTK_WINDOW (self), 620, 460);
  tpt_form_dialog_add (dialog, NULL, GTK_WIDGET (self->state));
  tpt_form_dialog_add (dialog, NULL, GTK_WIDGET (self->steps));
  tpt_form_dialog_add (dialog, NULL, GTK_WIDGET (self->doubts));
  tpt_form_dialog_set_valid (dialog, FALSE);
  run (self, look, looked_cb);
  return self;
}

void
tpt_clock_dialog_present (GtkWindow *parent, TptProject *project, const char *batch)
{
  gtk_window_present (GTK_WINDOW (tpt_clock_dialog_new (parent, project, batch)));
}
