#include "config.h"

#include "tpt-card-clock.h"

#include "tpt-card-note.h"
#include "tpt-card-step.h"
#include "tpt-field.h"

struct _TptCardClock {
  GtkWidget parent_instance;

  TptCard *card;               /* (owned) (nullable) */
  const TptSurveyMatch *shown; /* (unowned) (nullable): whose steps are shown; the card keeps it */
  gboolean updating;

  GtkWidget *right;
  GtkBox *steps;
  GtkBox *doubts;
  GtkWidget *kept;
  GtkWidget *instead;
  GtkGrid *pair;
  TptField *read, *true_time;
};

G_DEFINE_FINAL_TYPE (TptCardClock, tpt_card_clock, GTK_TYPE_WIDGET)

static void
toggled_cb (TptCardClock *self, GtkCheckButton *check)
{
  if (!self->updating)
    tpt_card_set_step (self->card, tpt_card_step_get_id (GTK_WIDGET (check)), gtk_check_button_get_active (check));
}

static void
add_step (TptCardClock *self, const TptClockStep *step)
{
  GtkWidget *check = tpt_card_step_new (step, tpt_card_get_zone (self->card));

  g_signal_connect_object (check, "toggled", G_CALLBACK (toggled_cb), self, G_CONNECT_SWAPPED);
  gtk_box_append (self->steps, check);
}

static void
fill (TptCardClock *self, const TptSurveyMatch *match)
{
  tpt_card_note_clear (self->steps);
  tpt_card_note_clear (self->doubts);
  for (guint i = 0; match != NULL && i < match->steps->len; i++)
    add_step (self, match->steps->pdata[i]);
  for (guint i = 0; match != NULL && i < match->doubts->len; i++)
    gtk_box_append (self->doubts, tpt_card_note_new (TPT_CARD_NOTE_CAUTION, match->doubts->pdata[i]));
  self->shown = match;
}

/* A reading given by hand stands in for those steps that come from visits. */
static void
update_steps (TptCardClock *self)
{
  gboolean pair = tpt_card_has_pair (self->card);

  self->updating = TRUE;
  for (GtkWidget *check = gtk_widget_get_first_child (GTK_WIDGET (self->steps)); check != NULL;
       check = gtk_widget_get_next_sibling (check))
    {
      const char *id = tpt_card_step_get_id (check);
      gboolean replaced = pair && (g_str_equal (id, "offset") || g_str_equal (id, "drift"));

      gtk_check_button_set_active (GTK_CHECK_BUTTON (check), tpt_card_get_step (self->card, id));
      gtk_widget_set_sensitive (check, !replaced);
    }
  self->updating = FALSE;
}

static void
pair_cb (TptCardClock *self)
{
  g_autofree char *read = tpt_field_get_text (self->read), *true_time = tpt_field_get_text (self->true_time);
  gboolean none = *read == '\0' && *true_time == '\0';
  gboolean good = *read != '\0' && *true_time != '\0' && tpt_field_get_error (self->read) == NULL &&
                  tpt_field_get_error (self->true_time) == NULL;

  tpt_card_set_pair (self->card, good ? read : NULL, good ? true_time : NULL);
  tpt_card_set_pair_unclear (self->card, !none && !good);
}

static TptField *
add_field (TptCardClock *self, const char *column, int place)
{
  const TptTable *table = tpt_table_get (TPT_TABLE_VISITS);
  TptField *field = tpt_field_new (&table->columns[tpt_table_find (table, column)], tpt_card_get_zone (self->card));

  g_signal_connect_object (field, "changed", G_CALLBACK (pair_cb), self, G_CONNECT_SWAPPED);
  gtk_widget_set_valign (GTK_WIDGET (field), GTK_ALIGN_START);
  gtk_grid_attach (self->pair, GTK_WIDGET (field), place, 0, 1, 1);
  return field;
}

static void
tpt_card_clock_dispose (GObject *object)
{
  TptCardClock *self = TPT_CARD_CLOCK (object);

  g_clear_object (&self->card);
  gtk_widget_dispose_template (GTK_WIDGET (self), TPT_TYPE_CARD_CLOCK);

  G_OBJECT_CLASS (tpt_card_clock_parent_class)->dispose (object);
}

static void
tpt_card_clock_class_init (TptCardClockClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = tpt_card_clock_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_template_from_resource (widget_class, "/io/github/tapetum/Tapetum/cards/tpt-card-clock.ui");
  gtk_widget_class_bind_template_child_full (widget_class, "outer", FALSE, 0);
  gtk_widget_class_bind_template_child (widget_class, TptCardClock, right);
  gtk_widget_class_bind_template_child (widget_class, TptCardClock, steps);
  gtk_widget_class_bind_template_child (widget_class, TptCardClock, doubts);
  gtk_widget_class_bind_template_child (widget_class, TptCardClock, kept);
  gtk_widget_class_bind_template_child (widget_class, TptCardClock, instead);
  gtk_widget_class_bind_template_child (widget_class, TptCardClock, pair);
}

static void
tpt_card_clock_init (TptCardClock *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));
}

void
tpt_card_clock_set_card (TptCardClock *self, TptCard *card)
{
  g_return_if_fail (self->card == NULL);
  self->card = g_object_ref (card);
  self->read = add_field (self, "camera_clock", 0);
  self->true_time = add_field (self, "true_clock", 1);
}

void
tpt_card_clock_update (TptCardClock *self)
{
  const TptSurveyMatch *match = tpt_card_get_match (self->card);
  gboolean pair = tpt_card_has_pair (self->card);

  if (match != self->shown)
    fill (self, match);
  gtk_widget_set_visible (self->right, match != NULL && match->steps->len == 0 && !pair);
  gtk_widget_set_visible (self->kept, match != NULL && (match->steps->len > 0 || pair));
  gtk_widget_set_visible (self->instead, pair && match != NULL && match->steps->len > 0);
  update_steps (self);
}
