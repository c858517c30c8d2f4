#include "config.h"

#include "tpt-card-outcome.h"

#include <glib/gi18n-lib.h>

#include "tpt-card-note.h"
#include "tpt-card-words.h"

/* A list longer than this helps nobody; the terminal gives all of it. */
#define MAX_FILES 200

struct _TptCardOutcome {
  GtkWidget parent_instance;

  GtkBox *news;
  GtkExpander *aside;
  GtkListBox *files;
};

G_DEFINE_FINAL_TYPE (TptCardOutcome, tpt_card_outcome, GTK_TYPE_WIDGET)

static void
add_line (TptCardOutcome *self, char *text)
{
  GtkWidget *label = gtk_label_new (text);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_wrap_mode (GTK_LABEL (label), PANGO_WRAP_WORD_CHAR);
  gtk_label_set_selectable (GTK_LABEL (label), TRUE);
  gtk_widget_set_margin_top (label, 6);
  gtk_widget_set_margin_bottom (label, 6);
  gtk_list_box_append (self->files, label);
  g_free (text);
}

static guint
add_files (TptCardOutcome *self, GPtrArray *notes, const char *format)
{
  for (guint i = 0; i < notes->len && i < MAX_FILES; i++)
    {
      const TptIntakeNote *note = notes->pdata[i];
      g_auto (GStrv) parts = g_strsplit (format, "%s", 3);

      add_line (self, g_strconcat (parts[0], note->file, parts[1], note->reason, parts[2], NULL));
    }
  if (notes->len > MAX_FILES)
    add_line (self, g_strdup_printf (_("… and %u more"), notes->len - MAX_FILES));
  return notes->len;
}

static void
show_files (TptCardOutcome *self, TptJobIntake *job)
{
  guint n = add_files (self, tpt_job_intake_get_unreadable (job), _("Set aside: %s (%s)")) +
            add_files (self, tpt_job_intake_get_damaged (job), _("Damaged: %s (%s)"));
  g_autofree char *label = g_strdup_printf (ngettext ("%u file is set aside or damaged", "%u files are set aside or damaged", n), n);

  gtk_expander_set_label (self->aside, label);
  gtk_expander_set_expanded (self->aside, n <= 12);
  gtk_widget_set_visible (GTK_WIDGET (self->aside), n > 0);
}

static void
show_steps (TptCardOutcome *self, GPtrArray *steps, TptZone *zone)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (guint i = 0; i < steps->len; i++)
    {
      g_autofree char *done = tpt_card_words_done (steps->pdata[i], zone);

      g_string_append_printf (text, "%s\n", done);
    }
  g_string_append (text, _("What the camera showed is kept."));
  if (steps->len > 0)
    gtk_box_append (self->news, tpt_card_note_new_titled (TPT_CARD_NOTE_GOOD, _("The clock was put right"), text->str));
}

static GtkWidget *
make_verdict (TptCard *card)
{
  TptJobIntake *job = tpt_card_get_intake (card);
  const char *why = tpt_job_intake_get_why_not (job);
  g_autofree char *flaws = tpt_card_words_flaws (card);
  g_autofree char *text = NULL;

  if (tpt_job_intake_get_safe (job))
    {
      text = g_strconcat (_("Everything on it was copied and read back. Format it in the camera, not in the computer, "
                            "and only when you have a second copy of the project’s folder."),
                          flaws != NULL ? "\n" : NULL, flaws, NULL);
      return tpt_card_note_new_titled (flaws != NULL ? TPT_CARD_NOTE_CAUTION : TPT_CARD_NOTE_GOOD, _("Safe to reuse this card"), text);
    }
  return tpt_card_note_new_titled (TPT_CARD_NOTE_CAUTION, _("Keep this card as it is"), why);
}

static void
tpt_card_outcome_dispose (GObject *object)
{
  gtk_widget_dispose_template (GTK_WIDGET (object), TPT_TYPE_CARD_OUTCOME);

  G_OBJECT_CLASS (tpt_card_outcome_parent_class)->dispose (object);
}

static void
tpt_card_outcome_class_init (TptCardOutcomeClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_card_outcome_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/cards/tpt-card-outcome.ui");
  gtk_widget_class_bind_template_child_full (widget_class, "outer", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptCardOutcome, news);
  gtk_widget_class_bind_template_child (widget_class, TptCardOutcome, aside);
  gtk_widget_class_bind_template_child (widget_class, TptCardOutcome, files);
}

static void
tpt_card_outcome_init (TptCardOutcome *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
tpt_card_outcome_show (TptCardOutcome *self, TptCard *card)
{
  TptJobIntake *job = tpt_card_get_intake (card);
  GPtrArray *doubts = tpt_job_intake_get_doubts (job);
  g_autofree char *taken = tpt_card_words_taken (card);

  tpt_card_note_clear (self->news);
  gtk_box_append (self->news, tpt_card_note_new (TPT_CARD_NOTE_GOOD, taken));
  show_steps (self, tpt_job_intake_get_steps (job), tpt_card_get_zone (card));
  for (guint i = 0; i < doubts->len; i++)
    gtk_box_append (self->news, tpt_card_note_new (TPT_CARD_NOTE_CAUTION, doubts->pdata[i]));
  gtk_box_append (self->news, make_verdict (card));
  show_files (self, job);
}
