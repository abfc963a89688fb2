"""Charts and tables as pure functions of plan and week: no Streamlit in here."""
