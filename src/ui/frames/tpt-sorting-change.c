/* Changes many triggers at once. */
#include "config.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-change-dialog.h"
#include "tpt-job-decide.h"
#include "tpt-sorting-private.h"
#include "tpt-table.h"
#include "tpt-words.h"

/* Calls @add for the reference of each that is chosen. */
static void
walk_chosen (TptSortingPage *self, GArray *ids, gboolean frames)
{
  const GtkBitset *chosen = tpt_frame_selection_get_chosen (tpt_frame_grid_get_selection (self->grid));
  gint64 before = 0;
  GtkBitsetIter iter;
  guint position;

  if (!gtk_bitset_iter_init_first (&iter, chosen, &position))
    return;
  do
    {
      TptFrameRef ref = tpt_frame_list_get_ref (self->list, position);
      gint64 id = frames ? ref.frame_id : ref.trigger_id;

      if (id != 0 && id != before) /* frames of one trigger follow each other */
        g_array_append_val (ids, id);
      before = id;
    }
  while (gtk_bitset_iter_next (&iter, &position));
}

/* (transfer full) (element-type gint64) */
static GArray *
list_chosen (TptSortingPage *self, gboolean frames)
{
  GArray *ids = g_array_new (FALSE, FALSE, sizeof (gint64));

  if (self->list != NULL)
    walk_chosen (self, ids, frames);
  return ids;
}

void
tpt_sorting_show_chosen (TptSortingPage *self)
{
  g_autoptr (GArray) triggers = list_chosen (self, FALSE);
  g_autofree char *number = tpt_words_number (triggers->len);
  g_autofree char *text =
    triggers->len > 0
      ? g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%s trigger chosen", "%s triggers chosen", triggers->len), number)
      : g_strdup (_("No trigger chosen"));
  gboolean writable = self->project != NULL && !tpt_project_get_read_only (self->project);
  gboolean marked = tpt_frame_filter_get_query (self->filter)->marked;

  gtk_label_set_label (self->chosen, text);
  gtk_widget_set_sensitive (self->changes, writable && triggers->len > 0);
  gtk_widget_set_sensitive (self->choose_none, triggers->len > 0);
  gtk_button_set_label (self->guests, marked ? _("Take the mark off") : _("Mark for guests"));
}

static void
begin (TptSortingPage *self)
{
  self->writing++;
  tpt_sorting_update_spinner (self);
}

/* Whether it went well; @self may have another project by now. */
static gboolean
end (TptSortingPage *self, GObject *source, GAsyncResult *result)
{
  g_autoptr (GError) error = NULL;
  gboolean good = tpt_project_run_finish (TPT_PROJECT (source), result, &error);

  self->writing--;
  tpt_sorting_update_spinner (self);
  if (!good)
    tpt_sorting_complain (self, error);
  return good && self->project == TPT_PROJECT (source);
}

static void
toast (TptSortingPage *self, const char *text)
{
  gtk_widget_activate_action (GTK_WIDGET (self), "win.toast", "s", text);
}

static void
decided_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptSortingPage) self = data;
  TptJobDecide *job = TPT_JOB_DECIDE (tpt_project_get_job (result));
  const char *what = g_object_get_data (G_OBJECT (job), "what");
  gint64 n, beside;
  g_autofree char *number = NULL;
  g_autofree char *text = NULL;
  g_autofree char *more = NULL;

  if (!end (self, source, result))
    return;
  n = tpt_job_decide_get_changed (job);
  beside = tpt_job_decide_get_beside (job);
  number = tpt_words_number ((double) n);
  text = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%1$s: %2$s trigger", "%1$s: %2$s triggers", (gulong) n), what,
                          number);
  more = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%1$s; in %2$d trigger, somebody else’s word stays first",
                                       "%1$s; in %2$d triggers, somebody else’s word stays first", (gulong) beside),
                          text, (int) beside);
  toast (self, beside > 0 ? more : text);
}

static const char *
word_decision (const char *type, const char *species)
{
  return type == NULL ? _("Taken back") : species != NULL ? species : tpt_choice_label (type);
}

void
tpt_sorting_decide (TptSortingPage *self, const char *type, const char *species)
{
  TptDecision decision = { .type = type, .species = species, .certainty = NAN, .by = self->person };
  g_autoptr (GArray) ids = list_chosen (self, FALSE);
  g_autoptr (TptJobDecide) job = NULL;

  if (ids->len == 0 || self->project == NULL || tpt_project_get_read_only (self->project))
    return;
  job = tpt_job_decide_new ((const gint64 *) ids->data, ids->len, &decision);
  g_object_set_data_full (G_OBJECT (job), "what", g_strdup (word_decision (type, species)), g_free);
  begin (self);
  /* What was said is written even when the page goes. */
  tpt_project_run_async (self->project, TPT_JOB (job), NULL, decided_cb, g_object_ref (self));
}

static void
named_cb (TptSortingPage *self, const char *species)
{
  tpt_sorting_decide (self, "animal", species);
}

void
tpt_sorting_name (TptSortingPage *self)
{
  g_autoptr (GArray) ids = list_chosen (self, FALSE);
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  TptChangeDialog *dialog;

  if (ids->len == 0 || self->project == NULL || tpt_project_get_read_only (self->project))
    return;
  dialog = tpt_change_dialog_new (GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL, self->project, ids->len);
  g_signal_connect_object (dialog, "named", G_CALLBACK (named_cb), self, G_CONNECT_SWAPPED);
  gtk_window_present (GTK_WINDOW (dialog));
}

static void
marked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptSortingPage) self = data;

  if (end (self, source, result))
    toast (self, g_object_get_data (G_OBJECT (tpt_project_get_job (result)), "on") != NULL
                   ? _("Marked as good for guests")
                   : _("No longer marked as good for guests"));
}

/* Puts the mark on the frames that are chosen; off, where only marked ones are listed. */
void
tpt_sorting_mark (TptSortingPage *self)
{
  gboolean on = !tpt_frame_filter_get_query (self->filter)->marked;
  g_autoptr (GArray) ids = list_chosen (self, TRUE);
  g_autoptr (TptJobMark) job = NULL;

  if (ids->len == 0 || self->project == NULL || tpt_project_get_read_only (self->project))
    return;
  job = tpt_job_mark_new ((const gint64 *) ids->data, ids->len, "guests", on, self->person);
  g_object_set_data (G_OBJECT (job), "on", on ? job : NULL);
  begin (self);
  tpt_project_run_async (self->project, TPT_JOB (job), NULL, marked_cb, g_object_ref (self));
}
