#include "config.h"

#include "tpt-batch-line.h"

#include <glib/gi18n-lib.h>

#include "tpt-words.h"

struct _TptBatchLine {
  GtkListBoxRow parent_instance;

  GtkLabel *title;
  GtkLabel *days;
  GtkLabel *progress;
  GtkLabel *notes;
  GtkProgressBar *bar;

  char *batch; /* (owned) */
};

G_DEFINE_FINAL_TYPE (TptBatchLine, tpt_batch_line, GTK_TYPE_LIST_BOX_ROW)

char *
tpt_batch_words_progress (const TptBatchState *state)
{
  g_autofree char *undecided = tpt_words_number ((double) state->undecided);
  g_autofree char *all = tpt_words_number ((double) state->triggers);

  if (state->triggers == 0)
    return g_strdup (_("No triggers"));
  if (state->undecided == 0)
    return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "The %s trigger is named", "All %s triggers named",
                                         (gulong) state->triggers),
                            all);
  return g_strdup_printf (g_dngettext (GETTEXT_PACKAGE, "%1$s of %2$s trigger to name", "%1$s of %2$s triggers to name",
                                       (gulong) state->triggers),
                          undecided, all);
}

/* (transfer full): "LAND-B3, 3 to 10 June" */
static char *
word_days (const TptBatchState *state, TptZone *zone, TptInstant now)
{
  g_autofree char *days = NULL;

  if (state->batch[0] == '\0' || state->first == TPT_NO_INSTANT)
    return g_strdup (state->batch);
  days = tpt_words_days (state->first, state->last, zone, now);
  return g_strdup_printf (_("%1$s, %2$s"), state->batch, days);
}

static void
add_note (GString *text, const char *note)
{
  g_string_append_printf (text, "%s%s", text->len > 0 ? ", " : "", note);
}

/* (transfer full): empty when there is nothing to say. */
static char *
word_notes (const TptBatchState *state)
{
  GString *text = g_string_new (NULL);
  g_autofree char *differ = tpt_words_number ((double) state->disagreements);
  g_autofree char *aside = tpt_words_number ((double) state->set_aside);
  g_autofree char *disagreements = g_strdup_printf (
    g_dngettext (GETTEXT_PACKAGE, "%s disagreement", "%s disagreements", (gulong) state->disagreements), differ);
  g_autofree char *files = g_strdup_printf (
    g_dngettext (GETTEXT_PACKAGE, "%s file set aside", "%s files set aside", (gulong) state->set_aside), aside);

  if (state->disagreements > 0)
    add_note (text, disagreements);
  if (state->set_aside > 0)
    add_note (text, files);
  return g_string_free (text, FALSE);
}

static void
tpt_batch_line_finalize (GObject *object)
{
  g_free (TPT_BATCH_LINE (object)->batch);

  G_OBJECT_CLASS (tpt_batch_line_parent_class)->finalize (object);
}

static void
tpt_batch_line_class_init (TptBatchLineClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = tpt_batch_line_finalize;
}

static GtkLabel *
add_label (GtkWidget *box, const char *style)
{
  GtkLabel *label = GTK_LABEL (gtk_label_new (NULL));

  gtk_label_set_xalign (label, 0);
  gtk_label_set_ellipsize (label, PANGO_ELLIPSIZE_END);
  gtk_widget_add_css_class (GTK_WIDGET (label), style);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (label));
  return label;
}

static void
tpt_batch_line_init (TptBatchLine *self)
{
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 1);

  self->batch = g_strdup ("");
  gtk_widget_add_css_class (box, "batch-line");
  self->title = add_label (box, "strong");
  self->days = add_label (box, "quiet");
  self->progress = add_label (box, "figures");
  self->notes = add_label (box, "figures");
  self->bar = GTK_PROGRESS_BAR (gtk_progress_bar_new ());
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->bar), GTK_ACCESSIBLE_PROPERTY_LABEL, _("Named so far"), -1);
  gtk_box_append (GTK_BOX (box), GTK_WIDGET (self->bar));
  gtk_list_box_row_set_child (GTK_LIST_BOX_ROW (self), box);
  gtk_list_box_row_set_activatable (GTK_LIST_BOX_ROW (self), FALSE); /* choosing it is all there is to do */
}

TptBatchLine *
tpt_batch_line_new (void)
{
  return g_object_new (TPT_TYPE_BATCH_LINE, NULL);
}

static void
set_text (GtkLabel *label, const char *text)
{
  if (g_strcmp0 (gtk_label_get_label (label), text) == 0)
    return;
  gtk_label_set_label (label, text);
  gtk_widget_set_visible (GTK_WIDGET (label), text[0] != '\0');
}

static void
tell (TptBatchLine *self, const char *title, const char *days, const char *progress, const char *notes)
{
  g_autofree char *text = g_strdup_printf ("%s%s%s; %s%s%s", title, days[0] != '\0' ? "; " : "", days, progress,
                                           notes[0] != '\0' ? "; " : "", notes);

  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
}

void
tpt_batch_line_show (TptBatchLine *self, const TptBatchState *state, TptZone *zone, TptInstant now)
{
  gboolean all = state->batch[0] == '\0';
  const char *title = all ? _("All batches") : state->station_title != NULL ? state->station_title : state->batch;
  g_autofree char *days = word_days (state, zone, now);
  g_autofree char *progress = tpt_batch_words_progress (state);
  g_autofree char *notes = word_notes (state);

  g_free (self->batch);
  self->batch = g_strdup (state->batch);
  set_text (self->title, title);
  set_text (self->days, days);
  set_text (self->progress, progress);
  set_text (self->notes, notes);
  gtk_widget_set_visible (GTK_WIDGET (self->days), days[0] != '\0');
  gtk_widget_set_visible (GTK_WIDGET (self->notes), notes[0] != '\0');
  gtk_progress_bar_set_fraction (
    self->bar, state->triggers > 0 ? 1 - (double) state->undecided / (double) state->triggers : 0);
  tell (self, title, days, progress, notes);
}

const char *
tpt_batch_line_get_batch (TptBatchLine *self)
{
  return self->batch;
}
