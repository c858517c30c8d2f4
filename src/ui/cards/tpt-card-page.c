#include "config.h"

#include "tpt-card-page.h"

#include <glib/gi18n-lib.h>

#include "tpt-card-clock.h"
#include "tpt-card-note.h"
#include "tpt-card-outcome.h"
#include "tpt-card-words.h"
#include "tpt-search.h"

struct _TptCardPage {
  GtkWidget parent_instance;

  TptCard *card;         /* (owned) */
  TptJobSurvey *listed;  /* (owned) (nullable): whose matches the choice lists */
  gboolean updating;

  GtkLabel *title, *folder;
  GtkProgressBar *progress;
  GtkBox *trouble;
  TptCardOutcome *outcome;
  GtkWidget *plan;
  GtkWidget *found_title;
  GtkLabel *found;
  GtkWidget *choices;
  GtkDropDown *deployment;
  GtkLabel *reasons;
  GtkBox *objections;
  TptCardClock *clock;
};

G_DEFINE_FINAL_TYPE (TptCardPage, tpt_card_page, GTK_TYPE_WIDGET)

static void
deployment_cb (TptCardPage *self)
{
  guint selected = gtk_drop_down_get_selected (self->deployment);

  if (!self->updating)
    tpt_card_choose (self->card, selected == GTK_INVALID_LIST_POSITION ? -1 : (int) selected);
}

static void
list_matches (TptCardPage *self, TptJobSurvey *survey)
{
  g_autoptr (GtkStringList) labels = gtk_string_list_new (NULL);
  GPtrArray *matches = tpt_job_survey_get_matches (survey);

  for (guint i = 0; i < matches->len; i++)
    {
      g_autofree char *label = tpt_card_words_match (matches->pdata[i], tpt_card_get_zone (self->card));

      gtk_string_list_append (labels, label);
    }
  gtk_drop_down_set_model (self->deployment, G_LIST_MODEL (labels));
  tpt_search_anywhere (self->deployment);
  g_set_object (&self->listed, survey);
}

/* (transfer full): why this deployment, or what is missing. */
static char *
say_reasons (TptCardPage *self, const TptSurveyMatch *match)
{
  GString *text;

  if (tpt_job_survey_get_matches (self->listed)->len == 0)
    return g_strdup (_("No rig has been set out yet, so no card can have come home."));
  if (match == NULL)
    return g_strdup (_("Nothing on the card tells for certain where it stood. Choose the deployment; the likeliest come first."));
  text = g_string_new (NULL);
  for (guint i = 0; i < match->reasons->len; i++)
    g_string_append_printf (text, "%s%s", i > 0 ? "\n" : "", (const char *) match->reasons->pdata[i]);
  return g_string_free (text, FALSE);
}

static void
show_choice (TptCardPage *self)
{
  const TptSurveyMatch *match = tpt_card_get_match (self->card);
  int chosen = tpt_card_get_chosen (self->card);
  g_autofree char *reasons = say_reasons (self, match);

  self->updating = TRUE;
  gtk_drop_down_set_selected (self->deployment, chosen >= 0 ? (guint) chosen : GTK_INVALID_LIST_POSITION);
  self->updating = FALSE;
  gtk_label_set_label (self->reasons, reasons);
  gtk_widget_set_visible (GTK_WIDGET (self->reasons), *reasons != '\0');
  tpt_card_note_clear (self->objections);
  for (guint i = 0; match != NULL && i < match->objections->len; i++)
    gtk_box_append (self->objections, tpt_card_note_new (TPT_CARD_NOTE_CAUTION, match->objections->pdata[i]));
  gtk_widget_set_visible (GTK_WIDGET (self->clock), match != NULL);
}

static void
show_found (TptCardPage *self)
{
  TptJobSurvey *survey = tpt_card_get_survey (self->card);
  g_autofree char *found = NULL;

  gtk_widget_set_visible (self->plan, survey != NULL);
  if (survey == NULL)
    return;
  if (survey != self->listed)
    {
      self->updating = TRUE;
      list_matches (self, survey);
      self->updating = FALSE;
    }
  found = tpt_card_words_found (self->card);
  gtk_label_set_label (self->found, found);
  gtk_widget_set_visible (self->choices, tpt_job_survey_get_frames (survey) > 0);
  show_choice (self);
}

static void
show_trouble (TptCardPage *self)
{
  TptCardState state = tpt_card_get_state (self->card);
  const char *trouble = tpt_card_get_trouble (self->card);
  gboolean there = tpt_card_get_there (self->card);

  tpt_card_note_clear (self->trouble);
  if (trouble != NULL)
    gtk_box_append (self->trouble, tpt_card_note_new (TPT_CARD_NOTE_TROUBLE, trouble));
  if (!there && state != TPT_CARD_TAKEN)
    gtk_box_append (self->trouble, tpt_card_note_new (TPT_CARD_NOTE_CAUTION,
                      state == TPT_CARD_STOPPED || state == TPT_CARD_TAKING
                        ? _("The card is not in the reader. What was copied is kept: put it back, and it goes on from there.")
                        : _("The card is not in the reader. Put it back to take it in.")));
  else if (state == TPT_CARD_STOPPED)
    gtk_box_append (self->trouble, tpt_card_note_new (TPT_CARD_NOTE_CAUTION,
                      _("Stopped. Nothing is lost and nothing is on record yet: “Go on” begins where it was.")));
}

static void
progress_cb (TptCardPage *self)
{
  g_autofree char *text = tpt_card_get_progress_text (self->card);

  gtk_progress_bar_set_fraction (self->progress, tpt_card_get_progress (self->card));
  gtk_progress_bar_set_text (self->progress, text != NULL && *text != '\0' ? text : _("Looking through the card…"));
}

static void
changed_cb (TptCardPage *self)
{
  TptCardState state = tpt_card_get_state (self->card);
  gboolean done = state == TPT_CARD_TAKEN;

  gtk_widget_set_visible (GTK_WIDGET (self->progress), state == TPT_CARD_LOOKING || state == TPT_CARD_TAKING);
  progress_cb (self);
  show_trouble (self);
  show_found (self);
  tpt_card_clock_update (self->clock);
  gtk_widget_set_sensitive (self->choices, state == TPT_CARD_READY || state == TPT_CARD_STOPPED);
  if (done)
    {
      gtk_widget_set_visible (self->plan, FALSE);
      tpt_card_outcome_show (self->outcome, self->card);
    }
  gtk_widget_set_visible (GTK_WIDGET (self->outcome), done);
}

static void
tpt_card_page_dispose (GObject *object)
{
  TptCardPage *self = TPT_CARD_PAGE (object);

  g_clear_object (&self->card);
  g_clear_object (&self->listed);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_CARD_PAGE);

  G_OBJECT_CLASS (tpt_card_page_parent_class)->dispose (object);
}

static void
tpt_card_page_class_init (TptCardPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_card_page_dispose;
  g_type_ensure (TPT_TYPE_CARD_CLOCK);
  g_type_ensure (TPT_TYPE_CARD_OUTCOME);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/cards/tpt-card-page.ui");
  gtk_widget_class_bind_template_child_full (widget_class, "outer", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptCardPage, title);
  gtk_widget_class_bind_template_child (widget_class, TptCardPage, folder);
  gtk_widget_class_bind_template_child (widget_class, TptCardPage, progress);
  gtk_widget_class_bind_template_child (widget_class, TptCardPage, trouble);
  gtk_widget_class_bind_template_child (widget_class, TptCardPage, outcome);
  gtk_widget_class_bind_template_child (widget_class, TptCardPage, plan);
  gtk_widget_class_bind_template_child (widget_class, TptCardPage, found_title);
  gtk_widget_class_bind_template_child (widget_class, TptCardPage, found);
  gtk_widget_class_bind_template_child (widget_class, TptCardPage, choices);
  gtk_widget_class_bind_template_child (widget_class, TptCardPage, deployment);
  gtk_widget_class_bind_template_child (widget_class, TptCardPage, reasons);
  gtk_widget_class_bind_template_child (widget_class, TptCardPage, objections);
  gtk_widget_class_bind_template_child (widget_class, TptCardPage, clock);
  gtk_widget_class_bind_template_callback (widget_class, deployment_cb);
}

static void
tpt_card_page_init (TptCardPage *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

GtkWidget *
tpt_card_page_new (TptCard *card)
{
  TptCardPage *self = g_object_new (TPT_TYPE_CARD_PAGE, NULL);
  g_autofree char *folder = g_filename_display_name (tpt_card_get_folder (card));

  self->card = g_object_ref (card);
  gtk_label_set_label (self->title, tpt_card_get_title (card));
  gtk_label_set_label (self->folder, folder);
  gtk_widget_set_tooltip_text (GTK_WIDGET (self->folder), folder);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, tpt_card_get_title (card), -1);
  tpt_card_clock_set_card (self->clock, card);
  g_signal_connect_object (card, "changed", G_CALLBACK (changed_cb), self, G_CONNECT_SWAPPED);
  g_signal_connect_object (card, "progress", G_CALLBACK (progress_cb), self, G_CONNECT_SWAPPED);
  changed_cb (self);
  return GTK_WIDGET (self);
}

TptCard *
tpt_card_page_get_card (TptCardPage *self)
{
  return self->card;
}
