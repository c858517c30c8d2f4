/* Changes many triggers at once. */
#include "config.h"

#include <adwaita.h>
#include <glib/gi18n-lib.h>
#include <math.h>

#include "tpt-change-dialog.h"
#include "tpt-job-decide.h"
#include "tpt-job-frames.h"
#include "tpt-sorting-private.h"
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

/* What follows "named"; a species is its own word. */
static const char *
word_what (const TptDecision *decision)
{
  static const struct {
    const char *type;
    const char *word;
  } words[] = {
    { "blank", N_("blank") }, { "human", N_("human") }, { "vehicle", N_("vehicle") }, { "unknown", N_("unknown") }
  };

  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_str_equal (decision->type, words[i].type))
      return _(words[i].word);
  return decision->species;
}

/* (transfer full): "307 triggers named blank" */
static char *
word_decided (const TptDecision *decision, gint64 n)
{
  g_autofree char *number = tpt_words_number ((double) n);

  if (decision->type == NULL)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "What you said of %s trigger is taken back",
                                         "What you said of %s triggers is taken back", (gulong) n),
                            number);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%1$s trigger named %2$s", "%1$s triggers named %2$s", (gulong) n),
                          number, word_what (decision));
}

/* (transfer full) (nullable): nothing was kept beside another's word. */
static char *
word_beside (gint64 n)
{
  g_autofree char *number = tpt_words_number ((double) n);

  if (n == 0)
    return NULL;
  return g_strdup_printf (
    g_dngettext (GETTEXT_PACKAGE, "%s opinion kept beside what somebody else said; it counts once you let it",
                 "%s opinions kept beside what somebody else said; they count once you let them", (gulong) n),
    number);
}

static void
decided_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (TptSortingPage) self = data;
  TptJobDecide *job = TPT_JOB_DECIDE (tpt_project_get_job (result));
  const TptDecision *decision = g_object_get_data (G_OBJECT (job), "decision");
  g_autofree char *first = NULL;
  g_autofree char *beside = NULL;
  g_autofree char *both = NULL;
  gint64 n_beside, n;

  if (!end (self, source, result))
    return;
  n_beside = tpt_job_decide_get_beside (job);
  n = tpt_job_decide_get_changed (job) - n_beside;
  first = word_decided (decision, n);
  beside = word_beside (n_beside);
  both = g_strdup_printf (_("%1$s; %2$s"), first, beside != NULL ? beside : "");
  toast (self, beside == NULL ? first : n == 0 ? beside : both);
}

static void
free_decision (gpointer data)
{
  TptDecision *decision = data;

  g_free ((char *) decision->type);
  g_free ((char *) decision->species);
  g_free ((char *) decision->by);
  g_free (decision);
}

/* (transfer full) */
static TptDecision *
make_decision (TptSortingPage *self, const char *type, const char *species)
{
  TptDecision *decision = g_new0 (TptDecision, 1);

  decision->type = g_strdup (type);
  decision->species = g_strdup (species);
  decision->by = g_strdup (self->person);
  decision->certainty = NAN;
  return decision;
}

/* What was said is written even when the page goes. */
static void
write_job (TptSortingPage *self, TptJob *job)
{
  begin (self);
  tpt_project_run_async (self->project, job, NULL, decided_cb, g_object_ref (self));
}

/* --- many that are decided already ----------------------------------------------- */

typedef struct {
  TptSortingPage *page; /* (owned) */
  TptProject *project;  /* (owned) */
  TptJob *job;          /* (owned) */
  GArray *ids;          /* (owned) (element-type gint64) */
} Question;

static void
free_question (Question *question)
{
  g_object_unref (question->page);
  g_object_unref (question->project);
  g_object_unref (question->job);
  g_array_unref (question->ids);
  g_free (question);
}

G_DEFINE_AUTOPTR_CLEANUP_FUNC (Question, free_question)

static void
release_question (gpointer data, GClosure *closure)
{
  free_question (data);
}

static void
answered_cb (AdwMessageDialog *dialog, const char *response, gpointer data)
{
  Question *question = data;

  if (g_str_equal (response, "change") && question->page->project == question->project)
    write_job (question->page, question->job);
}

/* @question: (transfer full) */
static void
ask (Question *question, guint decided)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (question->page));
  g_autofree char *number = tpt_words_number (decided);
  g_autofree char *heading = g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "Change what is on record for %s trigger?",
                                                           "Change what is on record for %s triggers?", decided),
                                              number);
  GtkWidget *dialog = adw_message_dialog_new (GTK_IS_WINDOW (root) ? GTK_WINDOW (root) : NULL, heading,
                                              _("They have been named already. It is one step to undo."));

  adw_message_dialog_add_responses (ADW_MESSAGE_DIALOG (dialog), "cancel", _("_Cancel"), "change", _("C_hange"), NULL);
  adw_message_dialog_set_close_response (ADW_MESSAGE_DIALOG (dialog), "cancel");
  adw_message_dialog_set_default_response (ADW_MESSAGE_DIALOG (dialog), "cancel");
  g_signal_connect_data (dialog, "response", G_CALLBACK (answered_cb), question, release_question, 0);
  gtk_window_present (GTK_WINDOW (dialog));
}

/* How many of @ids are not among those of the list that nobody has said anything of. */
static guint
count_decided (GArray *ids, GArray *undecided)
{
  g_autoptr (GHashTable) open = g_hash_table_new (g_int64_hash, g_int64_equal);
  guint n = 0;

  for (guint i = 0; i < undecided->len; i++)
    g_hash_table_add (open, &g_array_index (undecided, TptFrameRef, i).trigger_id);
  for (guint i = 0; i < ids->len; i++)
    n += !g_hash_table_contains (open, &g_array_index (ids, gint64, i));
  return n;
}

static void
looked_cb (GObject *source, GAsyncResult *result, gpointer data)
{
  g_autoptr (Question) question = data;
  TptSortingPage *self = question->page;
  g_autoptr (GArray) undecided = NULL;
  guint decided;

  if (!end (self, source, result))
    return;
  undecided = tpt_job_frames_steal_refs (TPT_JOB_FRAMES (tpt_project_get_job (result)));
  decided = count_decided (question->ids, undecided);
  if (decided > self->ask_above)
    ask (g_steal_pointer (&question), decided);
  else
    write_job (self, question->job);
}

/* Looks how many of @ids have been named, to ask before many of them change. */
static void
look_first (TptSortingPage *self, TptJob *job, GArray *ids)
{
  g_autoptr (TptFrameQuery) query = tpt_frame_query_copy (tpt_frame_filter_get_query (self->filter));
  g_autoptr (TptJobFrames) look = NULL;
  Question *question = g_new0 (Question, 1);

  query->undecided = TRUE;
  query->every_frame = FALSE;
  look = tpt_job_frames_new (query);
  question->page = g_object_ref (self);
  question->project = g_object_ref (self->project);
  question->job = g_object_ref (job);
  question->ids = g_array_ref (ids);
  begin (self);
  tpt_project_run_async (self->project, TPT_JOB (look), NULL, looked_cb, question);
}

void
tpt_sorting_decide (TptSortingPage *self, const char *type, const char *species)
{
  TptDecision *decision = NULL;
  g_autoptr (GArray) ids = list_chosen (self, FALSE);
  g_autoptr (TptJobDecide) job = NULL;

  if (ids->len == 0 || self->project == NULL || tpt_project_get_read_only (self->project))
    return;
  decision = make_decision (self, type, species);
  job = tpt_job_decide_new ((const gint64 *) ids->data, ids->len, decision);
  g_object_set_data_full (G_OBJECT (job), "decision", decision, free_decision);
  if (MIN ((gint64) ids->len, self->triggers - self->undecided) > self->ask_above)
    look_first (self, TPT_JOB (job), ids);
  else
    write_job (self, TPT_JOB (job));
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
